#include "lang/parser.hpp"

#include <algorithm>

namespace lanyard::lang {

namespace {

bool is_infix(const WordHelp& w) { return precedence(w.op) > 0 && precedence(w.op) < strength_of_prefix; }

// A place from which the text can be understood again after a mistake.
bool is_fresh_start(const Token& t) {
    return t.is_sign("(") || t.is_sign(")") || t.is_sign(",") || t.is_sign("->") || t.is_word("AND") ||
           t.is_word("OR") || t.is_word("XOR");
}

}  // namespace

const Token& Parser::take() {
    const Token& t = tokens_[at_];
    if (is_fresh_start(t)) quiet_ = false;
    if (at_ + 1 < tokens_.size()) ++at_;
    return t;
}

Span Parser::here() const { return at_end() && at_ > 0 ? tokens_[at_ - 1].span : now().span; }

bool Parser::at_closer() const { return at_end() || now().is_sign(")") || now().is_sign(","); }

void Parser::mistake(const Span& span, const std::string& what, const std::string& hint, const std::string& why) {
    if (!quiet_ && !abandoned_) report_.error("syntax-expression", span, what, why, hint);
    quiet_ = true;
}

void Parser::too_deep(const Span& span, const std::string& what) {
    if (!abandoned_)
        report_.error("too-deep", span, what, "",
                      "give parts of it their own names in \"logic\" and use those names here");
    abandoned_ = true;
    at_ = tokens_.size() - 1;
}

std::string Parser::too_many_levels() {
    return "this expression is nested more than " + std::to_string(nesting_limit) + " levels deep";
}

NodePtr Parser::make(SyntaxShape shape, Op op, const Span& head, const Span& span, std::vector<NodePtr> args) {
    auto node = std::make_unique<SyntaxNode>();
    node->shape = shape;
    node->op = op;
    node->head = head;
    node->span = span;
    node->args = std::move(args);
    for (const NodePtr& a : node->args) node->height = std::max(node->height, a->height + 1);
    if (node->height <= nesting_limit) return node;
    too_deep(span, "this expression has more than " + std::to_string(nesting_limit) + " operators in a row");
    return error_node();
}

NodePtr Parser::binary(Op op, const Token& sign, NodePtr left, NodePtr right) {
    const Span span = join(left->span, right->span);
    // a AND b AND c is one conjunction of three, unless somebody put parentheses.
    const bool joins = op == Op::and_ || op == Op::or_;
    if (joins && left->shape == SyntaxShape::apply && left->op == op && !left->in_parentheses &&
        right->height < nesting_limit) {
        left->span = span;
        left->height = std::max(left->height, right->height + 1);
        left->args.push_back(std::move(right));
        return left;
    }
    std::vector<NodePtr> args;
    args.push_back(std::move(left));
    args.push_back(std::move(right));
    return make(SyntaxShape::apply, op, sign.span, span, std::move(args));
}

NodePtr Parser::error_node(std::vector<NodePtr> args) {
    Span span = here();
    if (!args.empty()) span = join(args.front()->span, args.back()->span);
    return make(SyntaxShape::error, Op::truth, span, span, std::move(args));
}

NodePtr Parser::whole_expression() {
    if (at_end() && !report_.failed()) {
        mistake(here(), "there is no expression here", "write what should be on or off, or a value: `oil < 15 psi`");
        return error_node();
    }
    NodePtr node = sequence();
    while (!at_end()) {
        const bool closes = now().is_sign(")");
        mistake(here(), closes ? "this `)` has no matching `(`" : "a comma has no meaning here",
                closes ? "delete it, or add the `(` that it belongs to" : "use a point for decimals: 1.5");
        take();
        if (infix()) take();
        if (at_end()) break;
        std::vector<NodePtr> parts;
        parts.push_back(std::move(node));
        parts.push_back(sequence());
        node = error_node(std::move(parts));
    }
    return node;
}

const WordHelp* Parser::infix() {
    Token& t = tokens_[at_];
    if (t.kind == TokenKind::sign && t.text == ":=") {
        mistake(t.span, "`:=` is not used here", "write `=` to compare");
        t.text = "=";
    }
    if (t.kind != TokenKind::sign && t.kind != TokenKind::word) return nullptr;
    const WordHelp* w = find_word(t.text);
    if (w) return is_infix(*w) ? w : nullptr;
    w = find_word_any_case(t.text);
    if (!w || !is_infix(*w)) return nullptr;
    mistake(t.span, "`" + t.text + "` must be written in capitals", "write `" + w->word + "`");
    t.text = w->word;
    return w;
}

NodePtr Parser::sequence() {
    NodePtr node = expression(0);
    while (!at_closer()) {
        missing_operator();
        const std::size_t before = at_;
        std::vector<NodePtr> parts;
        parts.push_back(std::move(node));
        parts.push_back(expression(0));
        if (at_ == before) take();
        node = error_node(std::move(parts));
    }
    return node;
}

void Parser::missing_operator() {
    const Token& t = now();
    if (t.kind == TokenKind::bad) {
        quiet_ = true;
        return;
    }
    if (t.is_sign(".."))
        return mistake(t.span, "an interval cannot be used in an expression",
                       "write two comparisons: `oil >= 1 bar AND oil <= 2 bar`");
    if (t.is_sign("%")) return mistake(t.span, "`%` has no number in front of it", "write 95 %, for example");
    if (t.is_word("NOT")) return mistake(t.span, "AND or OR is missing before `NOT`", "write `AND NOT`, for example");
    mistake(t.span, "something is missing before " + report_.quote(t.span),
            "put AND, OR, a comparison or an arithmetic sign between the two");
}

NodePtr Parser::nested(int least) {
    if (nesting_ >= nesting_limit) {
        too_deep(here(), too_many_levels());
        return error_node();
    }
    ++nesting_;
    NodePtr node = expression(least);
    --nesting_;
    return node;
}

NodePtr Parser::expression(int least) {
    NodePtr left = prefix();
    for (;;) {
        const WordHelp* w = infix();
        if (!w || precedence(w->op) < std::max(least, 1)) return left;
        const Token sign = take();
        const int strength = precedence(w->op);
        // `->` groups to the right and is the only one that can nest by that.
        NodePtr right = w->op == Op::implies ? nested(strength) : expression(strength + 1);
        left = binary(w->op, sign, std::move(left), std::move(right));
    }
}

NodePtr Parser::prefix() {
    const Token& t = now();
    switch (t.kind) {
        case TokenKind::number:
            return literal();
        case TokenKind::word:
            return prefix_word();
        case TokenKind::bad: {
            quiet_ = true;
            NodePtr node = error_node();
            take();
            return node;
        }
        case TokenKind::sign:
            if (t.text == "(") return parenthesised();
            if (t.text == "-") return negated();
            if (t.text == "+") {
                mistake(t.span, "a plus sign has no meaning in front of a value", "delete it");
                take();
                return nested(strength_of_prefix);
            }
            break;
        case TokenKind::end:
            break;
    }
    if (at_end())
        mistake(here(), "the expression ends too early", "something must follow " + report_.quote(here()));
    else
        mistake(here(), "a value is missing before " + report_.quote(here()),
                "write a name, a number with its unit, or an expression in parentheses there");
    return error_node();
}

NodePtr Parser::parenthesised() {
    const Span begin = take().span;
    if (now().is_sign(")")) {
        mistake(here(), "there is nothing between the parentheses", "write an expression there");
        take();
        return error_node();
    }
    ++nesting_;
    if (nesting_ > nesting_limit) {
        --nesting_;
        too_deep(begin, too_many_levels());
        return error_node();
    }
    NodePtr node = sequence();
    --nesting_;
    if (now().is_sign(",")) {
        mistake(here(), "a comma has no meaning here", "only the inputs of an element are separated by commas");
        while (now().is_sign(",")) {
            take();
            std::vector<NodePtr> parts;
            parts.push_back(std::move(node));
            parts.push_back(sequence());
            node = error_node(std::move(parts));
        }
    }
    node->span = {begin.begin, here().end};
    close_bracket();
    node->in_parentheses = true;
    return node;
}

void Parser::close_bracket() {
    if (now().is_sign(")")) {
        take();
        return;
    }
    mistake(here(), "a closing `)` is missing", "every `(` needs its `)`");
}

NodePtr Parser::negated() {
    const Token sign = take();
    NodePtr arg = nested(strength_of_prefix);
    const Span span = join(sign.span, arg->span);
    if (arg->shape == SyntaxShape::literal && !arg->in_parentheses && arg->text.front() != '-') {
        arg->number = -arg->number;
        arg->text = "-" + arg->text;
        arg->span = span;
        return arg;
    }
    std::vector<NodePtr> args;
    args.push_back(std::move(arg));
    return make(SyntaxShape::apply, Op::neg, sign.span, span, std::move(args));
}

NodePtr parse_expression_text(TextReport& report) { return Parser(report).whole_expression(); }

}  // namespace lanyard::lang
