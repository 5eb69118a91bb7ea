#include "certify/lemma_text.hpp"

#include <algorithm>
#include <limits>
#include <map>

#include "encode/unroll.hpp"

namespace lanyard::certify {

namespace {

struct Term {
    z3::expr e;
    std::size_t depth = 1;
};
using Terms = std::vector<Term>;

bool same_sort(const Terms& a) {
    const z3::sort first = a.front().e.get_sort();
    return std::all_of(a.begin(), a.end(), [&](const Term& t) { return z3::eq(t.e.get_sort(), first); });
}
bool booleans(const Terms& a) { return a.front().e.is_bool() && same_sort(a); }
bool numbers(const Terms& a) { return a.front().e.is_arith() && same_sort(a); }
bool linear(const Terms& a) {
    return numbers(a) && std::count_if(a.begin(), a.end(), [](const Term& t) { return !t.e.is_numeral(); }) <= 1;
}
bool alike(const Terms& a) { return (a.front().e.is_bool() || a.front().e.is_arith()) && same_sort(a); }
bool a_choice(const Terms& a) { return a[0].e.is_bool() && alike({a[1], a[2]}); }
bool by_a_number(const Terms& a) { return numbers(a) && a[1].e.is_numeral() && exact(a[1].e) != 0; }
bool whole_by_a_number(const Terms& a) { return by_a_number(a) && a[0].e.is_int(); }
bool a_fraction(const Terms& a) { return by_a_number(a) && a[0].e.is_real(); }
bool an_integer(const Terms& a) { return a[0].e.is_int(); }
bool a_real(const Terms& a) { return a[0].e.is_real(); }

using Nary = Z3_ast (*)(Z3_context, unsigned, Z3_ast const[]);
using Binary = Z3_ast (*)(Z3_context, Z3_ast, Z3_ast);
using Unary = Z3_ast (*)(Z3_context, Z3_ast);

template <Nary make>
z3::expr nary(z3::context& ctx, const Terms& a) {
    z3::expr_vector all(ctx);
    for (const auto& t : a) all.push_back(t.e);
    const z3::array<Z3_ast> list(all);
    return {ctx, make(ctx, list.size(), list.ptr())};
}
template <Binary make>
z3::expr binary(z3::context& ctx, const Terms& a) {
    return {ctx, make(ctx, a[0].e, a[1].e)};
}
template <Unary make>
z3::expr unary(z3::context& ctx, const Terms& a) {
    return {ctx, make(ctx, a[0].e)};
}
z3::expr choice(z3::context&, const Terms& a) { return z3::ite(a[0].e, a[1].e, a[2].e); }
z3::expr minus(z3::context& ctx, const Terms& a) {
    if (a.size() > 1) return nary<Z3_mk_sub>(ctx, a);
    if (!a[0].e.is_numeral()) return -a[0].e;
    const std::string text = Rational(-exact(a[0].e)).get_str();
    return a[0].e.is_int() ? ctx.int_val(text.c_str()) : ctx.real_val(text.c_str());
}
z3::expr quotient(z3::context& ctx, const Terms& a) {
    if (!a[0].e.is_numeral()) return a[0].e / a[1].e;
    return ctx.real_val(Rational(exact(a[0].e) / exact(a[1].e)).get_str().c_str());
}

struct Operator {
    const char* name;
    std::size_t least, most;  // operands
    bool (*fits)(const Terms&);
    z3::expr (*make)(z3::context&, const Terms&);
};
constexpr std::size_t many = std::numeric_limits<std::size_t>::max();
constexpr Operator operators[] = {
    {"and", 1, many, booleans, nary<Z3_mk_and>},
    {"or", 1, many, booleans, nary<Z3_mk_or>},
    {"not", 1, 1, booleans, unary<Z3_mk_not>},
    {"=>", 2, 2, booleans, binary<Z3_mk_implies>},
    {"xor", 2, 2, booleans, binary<Z3_mk_xor>},
    {"ite", 3, 3, a_choice, choice},
    {"=", 2, 2, alike, binary<Z3_mk_eq>},
    {"distinct", 2, many, alike, nary<Z3_mk_distinct>},
    {"<=", 2, 2, numbers, binary<Z3_mk_le>},
    {"<", 2, 2, numbers, binary<Z3_mk_lt>},
    {">=", 2, 2, numbers, binary<Z3_mk_ge>},
    {">", 2, 2, numbers, binary<Z3_mk_gt>},
    {"+", 2, many, numbers, nary<Z3_mk_add>},
    {"-", 1, many, numbers, minus},
    {"*", 2, many, linear, nary<Z3_mk_mul>},
    {"/", 2, 2, a_fraction, quotient},
    {"div", 2, 2, whole_by_a_number, binary<Z3_mk_div>},
    {"mod", 2, 2, whole_by_a_number, binary<Z3_mk_mod>},
    {"to_real", 1, 1, an_integer, unary<Z3_mk_int2real>},
    {"to_int", 1, 1, a_real, unary<Z3_mk_real2int>},
};
const Operator* operator_named(const std::string& name) {
    const auto* found =
        std::find_if(std::begin(operators), std::end(operators), [&](const Operator& o) { return name == o.name; });
    return found == std::end(operators) ? nullptr : found;
}

class NoLemma {};  // thrown and caught in this file alone

bool is_space(char c) { return c == ' ' || c == '\n'; }  // a solver writes no others
bool is_digit(char c) { return c >= '0' && c <= '9'; }

class Reader {
 public:
    Reader(const System& s, const LemmaLimits& limits) : ctx_(*s.ctx), limits_(limits) {
        for (const auto& v : s.state) know(v.cur);
        for (const auto& i : s.inputs) know(i.var);
        know(s.k);
        for (const auto& d : s.definitions) know(d.constant);
        names_.insert_or_assign("true", Term{ctx_.bool_val(true)});
        names_.insert_or_assign("false", Term{ctx_.bool_val(false)});
    }

    z3::expr read(const std::string& text) {
        text_ = &text;
        at_ = 0;
        open_.clear();
        result_.reset();
        locals_.clear();
        while (next_token()) {
            if (result_) throw NoLemma();  // something behind its end
            if (token_ == "(" && !quoted_)
                open();
            else if (token_ == ")" && !quoted_)
                close();
            else
                deliver(leaf());
        }
        if (!result_ || !open_.empty() || !result_->e.is_bool()) throw NoLemma();
        return result_->e;
    }

 private:
    // `bindings` is between the brackets of a let's names, `binding` is one of them, `body` comes behind.
    enum class Kind { application, bindings, binding, body };
    struct Frame {
        Kind kind;
        const Operator* op = nullptr;
        std::string name;  // a binding's
        Terms terms;
        std::vector<std::string> names;  // of a let, with terms as long as they are not in force
    };

    void know(const z3::expr& constant) { names_.emplace(constant.decl().name().str(), Term{constant}); }

    // False at the end.
    bool next_token() {
        const std::string& t = *text_;
        while (at_ < t.size() && is_space(t[at_])) ++at_;
        if (at_ == t.size()) return false;
        const std::size_t from = at_;
        quoted_ = t[at_] == '|';
        if (quoted_) {
            const std::size_t end = t.find('|', at_ + 1);
            if (end == std::string::npos) throw NoLemma();
            token_ = t.substr(from + 1, end - from - 1);
            at_ = end + 1;
            return true;
        }
        if (t[at_] == '(' || t[at_] == ')')
            ++at_;
        else
            while (at_ < t.size() && !is_space(t[at_]) && t[at_] != '(' && t[at_] != ')' && t[at_] != '|') ++at_;
        token_ = t.substr(from, at_ - from);
        return true;
    }
    void expect(const char* token) {
        if (!next_token() || quoted_ || token_ != token) throw NoLemma();
    }
    std::string new_name() {
        if (!next_token() || token_ == "(" || token_ == ")" || token_.empty() || is_digit(token_[0])) throw NoLemma();
        return token_;
    }

    void open() {
        if (open_.size() >= limits_.depth) throw NoLemma();
        if (!open_.empty() && open_.back().kind == Kind::bindings) {
            open_.push_back({Kind::binding, nullptr, new_name(), {}, {}});
            return;
        }
        if (!next_token() || quoted_) throw NoLemma();
        if (token_ == "let") {
            expect("(");
            open_.push_back({Kind::bindings, nullptr, "", {}, {}});
            return;
        }
        const Operator* op = operator_named(token_);
        if (op == nullptr) throw NoLemma();
        open_.push_back({Kind::application, op, "", {}, {}});
    }

    void close() {
        if (open_.empty()) throw NoLemma();
        Frame& top = open_.back();
        switch (top.kind) {
            case Kind::application:
                return finish(applied(*top.op, top.terms));
            case Kind::binding: {
                if (top.terms.size() != 1) throw NoLemma();
                const Frame bound = std::move(top);
                open_.pop_back();
                open_.back().names.push_back(bound.name);
                open_.back().terms.push_back(bound.terms.front());
                return;
            }
            case Kind::bindings:
                // The names hold in the body alone: not in each other's terms.
                if (top.names.empty()) throw NoLemma();
                for (std::size_t i = 0; i < top.names.size(); ++i)
                    if (names_.contains(top.names[i]) || !locals_.emplace(top.names[i], top.terms[i]).second)
                        throw NoLemma();
                top.terms.clear();
                top.kind = Kind::body;
                return;
            case Kind::body:
                if (top.terms.size() != 1) throw NoLemma();
                for (const auto& name : top.names) locals_.erase(name);
                return finish(top.terms.front());
        }
    }
    void finish(const Term& term) {
        const Term done = term;
        open_.pop_back();
        deliver(done);
    }
    void deliver(const Term& term) {
        if (open_.empty()) {
            result_ = term;
            return;
        }
        Frame& top = open_.back();
        if (top.kind == Kind::bindings || (top.kind != Kind::application && !top.terms.empty())) throw NoLemma();
        top.terms.push_back(term);
    }

    Term applied(const Operator& op, const Terms& terms) const {
        if (terms.size() < op.least || terms.size() > op.most || !op.fits(terms)) throw NoLemma();
        std::size_t depth = 0;
        for (const auto& t : terms) depth = std::max(depth, t.depth);
        if (depth >= limits_.depth) throw NoLemma();
        const z3::expr made = op.make(ctx_, terms);
        ctx_.check_error();
        return {made, depth + 1};
    }

    Term leaf() const {
        if (!quoted_ && !token_.empty() && is_digit(token_[0])) return Term{number()};
        if (const auto local = locals_.find(token_); local != locals_.end()) return local->second;
        const auto known = names_.find(token_);
        if (known == names_.end()) throw NoLemma();
        return known->second;
    }
    // "12" is whole, "12.5" is not.
    z3::expr number() const {
        if (token_.size() > limits_.number) throw NoLemma();
        const auto point = std::find_if_not(token_.begin(), token_.end(), is_digit);
        if (point == token_.end()) return ctx_.int_val(token_.c_str());
        const bool fine = *point == '.' && point + 1 != token_.end() && std::all_of(point + 1, token_.end(), is_digit);
        if (!fine) throw NoLemma();
        return ctx_.real_val(token_.c_str());
    }

    z3::context& ctx_;
    const LemmaLimits& limits_;
    std::map<std::string, Term> names_, locals_;
    const std::string* text_ = nullptr;
    std::size_t at_ = 0;
    std::string token_;
    bool quoted_ = false;
    std::vector<Frame> open_;
    std::optional<Term> result_;
};

}  // namespace

std::optional<std::vector<z3::expr>> parse_lemmas(const System& s, const std::vector<std::string>& texts,
                                                  const LemmaLimits& limits) {
    std::size_t left = limits.characters;
    Reader reader(s, limits);
    std::vector<z3::expr> out;
    try {
        for (const auto& text : texts) {
            if (text.size() > left) return std::nullopt;
            left -= text.size();
            out.push_back(reader.read(text));
        }
    } catch (const NoLemma&) {
        return std::nullopt;
    }
    return out;
}

}  // namespace lanyard::certify
