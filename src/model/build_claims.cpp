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
        if (const auto window = time("out_of", "\"out_of\"", true)) {
            r.manner = Manner::in_total;
            r.out_of = *window;
            check_window(r);
        }
        c.body = std::move(r);
    }
    void response_once(Claim& c) {
        Response r;
        r.manner = Manner::once_begun;
        r.whenever = expression("once");
        r.then = expression("then");
        r.within = time("within", "\"within\"", false).value_or(0);
        r.for_time = time("for", "\"for\"", false).value_or(0);
        c.body = std::move(r);
    }

    void change_limit(Claim& c) {
        ChangeLimit l;
        l.body = expression("changes");
        l.at_most = object_.count("at_most");
        l.in_any = time("in_any", "\"in_any\"", true).value_or(0);
        c.body = std::move(l);
    }

    void recoverable(Claim& c) {
        Recoverable r;
        r.body = expression("recoverable");
        r.within = time("within", "\"within\"", true);
        r.may_move.assign(b_.model.switches.size(), !object_.has("may_move") && !object_.flag("hands_off"));
        if (object_.has("may_move") && object_.has("hands_off")) {
            good_ = false;
            b_.reading.error("two-kinds", object_.pointer("hands_off"), object_.place("hands_off"),
                             "the claim has both \"may_move\" and \"hands_off\"",
                             "the one names switches that may be moved, the other says that none may", "keep one");
        }
        for (const auto& name : object_.texts("may_move")) {
            const int s = switch_named(b_, name);
            if (s < 0)
                good_ = false;
            else
                r.may_move[static_cast<std::size_t>(s)] = true;
        }
        c.body = std::move(r);
        reached_under(c);
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
        if (object_.has("from")) {
            p.from = expression("from");
            reached_under(c);
        } else if (object_.has("reached_under")) {
            good_ = false;
            b_.reading.error("needs-from", object_.pointer("reached_under"), object_.place("reached_under"),
                             "\"reached_under\" says what holds before \"from\", but there is no \"from\"",
                             "without it the steps begin with the run", "add \"from\", or take \"under\"");
        }
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
    void reached_under(Claim& c) {
        c.reached_under = 0;
        const auto text = object_.text("reached_under");
        if (!text) return;
        c.reached_under = condition_for(b_, *text);
        if (c.reached_under < 0) good_ = false;
    }

    void check_window(const Response& r) {
        if (r.out_of >= r.for_time) return;
        good_ = false;
        b_.reading.error("short-window", object_.pointer("out_of"), object_.place("out_of"),
                         "\"out_of\" is shorter than \"for\"",
                         "nothing can be true for longer than the time it is counted in",
                         "\"for\" in all within any \"out_of\": give the longer time to \"out_of\"");
    }

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

}  // namespace

void build_claim(Build& b, const Entry& e) {
    bool good = check_claim_name(b.reading, e.name, e.place, e.pointer);
    if (e.value == nullptr) return;
    const ObjectHelp* help = choose_kind(b.reading, claim_kinds(), *e.value, e.pointer, e.place, "the claim");
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
    else if (help->id == "response_once")
        builder.response_once(c);
    else if (help->id == "change_limit")
        builder.change_limit(c);
    else if (help->id == "recoverable")
        builder.recoverable(c);
    else if (help->id == "possible")
        builder.possible(c);
    else
        builder.procedure(c);
    const bool of_healthy = help->id == "possible" || help->id == "procedure" || help->id == "recoverable";
    builder.under(c, of_healthy ? 1 : 0);
    good = builder.good() && good;
    if (good) b.model.claims.push_back(std::move(c));
}

void build_claims(Build& b, const ObjectReader& top) {
    for (const auto& e : top.entries("claims")) build_claim(b, e);
}

}  // namespace lanyard
