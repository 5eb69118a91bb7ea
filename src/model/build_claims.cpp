#include "model/claim_parts.hpp"
#include "model/names.hpp"

namespace lanyard::model {

namespace {

class ClaimBuilder {
 public:
    ClaimBuilder(Build& b, ClaimParts& parts) : b_(b), parts_(parts) {}

    void always(Claim& c) { c.body = Always{parts_.expression("always")}; }
    void possible(Claim& c) { c.body = Possible{parts_.expression("possible")}; }

    void response(Claim& c, Manner manner, const char* whenever) {
        Response r;
        r.manner = manner;
        r.whenever = parts_.expression(whenever);
        r.then = parts_.expression("then");
        r.within = parts_.time("within", false).value_or(0);
        r.for_time = parts_.time("for", false).value_or(0);
        if (const auto window = parts_.time("out_of", true)) {
            r.manner = Manner::in_total;
            r.out_of = *window;
            check_window(r);
        }
        c.body = std::move(r);
    }

    void change_limit(Claim& c) {
        ChangeLimit l;
        l.body = parts_.expression("changes");
        l.at_most = parts_.count("at_most");
        l.in_any = parts_.time("in_any", true).value_or(0);
        c.body = std::move(l);
    }

    void recoverable(Claim& c) {
        Recoverable r;
        r.body = parts_.expression("recoverable");
        r.within = parts_.time("within", true);
        r.may_move.assign(b_.model.switches.size(), !parts_.has("may_move") && !parts_.flag("hands_off"));
        if (parts_.has("may_move") && parts_.has("hands_off")) {
            parts_.spoil();
            b_.reading.error("two-kinds", parts_.pointer("hands_off"), parts_.place("hands_off"),
                             "the claim has both \"may_move\" and \"hands_off\"",
                             "one names switches that may be moved, the other says that none may", "keep one");
        }
        for (const auto& name : parts_.texts("may_move")) {
            const SwitchId s = switch_named(b_, name);
            if (!s)
                parts_.spoil();
            else
                r.may_move[s] = true;
        }
        c.body = std::move(r);
        reached_under(c);
    }

    void procedure(Claim& c) {
        Procedure p;
        if (auto made = build_steps(b_, parts_.texts("procedure"), parts_.text("then_wait")))
            p = std::move(*made);
        else
            parts_.spoil();
        p.goal = parts_.expression("ends_with");
        p.within = parts_.time("within", true);
        if (parts_.has("from")) {
            p.from = parts_.expression("from");
            reached_under(c);
        } else if (parts_.has("reached_under")) {
            parts_.spoil();
            b_.reading.error("needs-from", parts_.pointer("reached_under"), parts_.place("reached_under"),
                             "\"reached_under\" says what holds before \"from\", but there is no \"from\"",
                             "without it the steps begin with the run", "add \"from\", or take \"under\"");
        }
        c.body = std::move(p);
    }

    void under(Claim& c) {
        c.condition = parts_.usual_condition();
        const auto text = parts_.text("under");
        if (!text) return;
        c.condition = condition_for(b_, *text);
        if (!c.condition) parts_.spoil();
    }

 private:
    void reached_under(Claim& c) {
        c.reached_under = any_condition;
        const auto text = parts_.text("reached_under");
        if (!text) return;
        c.reached_under = condition_for(b_, *text);
        if (!c.reached_under) parts_.spoil();
    }

    void check_window(const Response& r) {
        if (r.out_of >= r.for_time) return;
        parts_.spoil();
        b_.reading.error("short-window", parts_.pointer("out_of"), parts_.place("out_of"),
                         "\"out_of\" is shorter than \"for\"",
                         "nothing can be true for longer than the time it is counted in",
                         "\"for\" in total within any \"out_of\": give the longer time to \"out_of\"");
    }

    Build& b_;
    ClaimParts& parts_;
};

void build_body(ClaimBuilder& builder, const std::string& kind, Claim& c) {
    if (kind == "always")
        builder.always(c);
    else if (kind == "response")
        builder.response(c, Manner::while_it_lasts, "whenever");
    else if (kind == "response_once")
        builder.response(c, Manner::once_begun, "once");
    else if (kind == "change_limit")
        builder.change_limit(c);
    else if (kind == "recoverable")
        builder.recoverable(c);
    else if (kind == "possible")
        builder.possible(c);
    else
        builder.procedure(c);
    builder.under(c);
}

}  // namespace

void build_claim(Build& b, const Entry& e) {
    const bool named = check_claim_name(b.reading, e.name, e.place, e.pointer);
    if (e.value == nullptr) return;
    const ObjectHelp* help = choose_claim(b.reading, *e.value, e.pointer, e.place);
    if (help == nullptr) return;
    const ObjectReader object(b.reading, *help, *e.value, e.pointer);
    Claim c;
    c.id = e.name;
    c.note = object.word("note");
    c.place = e.place;
    c.pointer = e.pointer;
    c.written = json::one_line(b.reading.source().text(), *e.value);
    ClaimParts parts(b, *help, object);
    c.pattern = parts.word();
    ClaimBuilder builder(b, parts);
    build_body(builder, parts.kind(), c);
    if (parts.good()) c.failure = parts.failure();
    if (parts.good() && named) b.model.claims.push_back(std::move(c));
}

void build_claims(Build& b, const ObjectReader& top) {
    for (const auto& e : top.entries("claims")) build_claim(b, e);
}

}  // namespace lanyard::model
