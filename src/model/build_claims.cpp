#include "model/build.hpp"
#include "model/names.hpp"
#include "model/scopes.hpp"

namespace lanyard {

namespace {

class ClaimBuilder {
 public:
    ClaimBuilder(Build& b, const ObjectReader& object) : b_(b), object_(object), good_(object.good()) {}

    void always(Claim& c) { c.body = Always{expression("always")}; }
    void possible(Claim& c) { c.body = Possible{expression("possible")}; }

    void response(Claim& c) {
        Response r;
        r.whenever = expression("whenever");
        r.then = expression("then");
        r.within = time("within", "\"within\"", false).value_or(0);
        r.for_time = time("for", "\"for\"", false).value_or(0);
        c.body = std::move(r);
    }

    void procedure(Claim& c) {
        Procedure p;
        const auto steps = object_.texts("procedure");
        const bool whole = object_.get("procedure") != nullptr;
        if (auto made = whole ? build_steps(b_, steps) : std::nullopt)
            p = std::move(*made);
        else
            good_ = false;
        p.goal = expression("ends_with");
        p.within = time("within", "\"within\"", true);
        c.body = std::move(p);
    }

    void under(Claim& c, int standard) {
        c.condition = standard;
        const auto text = object_.text("under");
        if (!text) return;
        c.condition = condition_for(b_, *text);
        if (c.condition < 0) good_ = false;
    }

    bool good() const { return good_; }

 private:
    ExprPtr expression(const char* key) {
        const auto text = object_.text(key);
        if (!text) return nullptr;
        ClaimScope scope(b_);
        ExprPtr e = compile_for(b_, *text, scope, Type::boolean(), {Op::ton, true, false});
        if (e == nullptr) good_ = false;
        return e;
    }

    std::optional<Rational> time(const char* key, const char* what_for, bool above_zero) {
        const auto text = object_.text(key);
        if (!text) return std::nullopt;
        const auto t = read_time(b_, *text, what_for, above_zero);
        if (!t) good_ = false;
        return t;
    }

    Build& b_;
    const ObjectReader& object_;
    bool good_;
};

void build_claim(Build& b, const Entry& e) {
    bool good = check_claim_name(b.reading, e.name, e.place, e.pointer);
    if (e.value == nullptr) return;
    const ObjectHelp* help = choose_kind(b.reading, {"always", "response", "possible", "procedure"}, *e.value,
                                         e.pointer, e.place, "the claim");
    if (help == nullptr) return;
    const ObjectReader object(b.reading, *help, *e.value, e.pointer);
    Claim c;
    c.id = e.name;
    c.note = object.word("note");
    c.place = e.place;
    c.pointer = e.pointer;
    ClaimBuilder builder(b, object);
    if (help->id == "always")
        builder.always(c);
    else if (help->id == "response")
        builder.response(c);
    else if (help->id == "possible")
        builder.possible(c);
    else
        builder.procedure(c);
    const bool of_healthy = help->id == "possible" || help->id == "procedure";
    builder.under(c, of_healthy ? 1 : 0);
    good = builder.good() && good;
    if (good) b.model.claims.push_back(std::move(c));
}

}  // namespace

void build_claims(Build& b, const ObjectReader& top) {
    for (const auto& e : top.entries("claims")) build_claim(b, e);
}

}  // namespace lanyard
