// The part of the parser that reads words: names, constants, blocks with their inputs, numbers with their units.

#include <algorithm>

#include "base/suggest.hpp"
#include "lang/parser.hpp"

namespace lanyard::lang {

namespace {

bool is_unit_word(const Token& t) { return (t.kind == TokenKind::word || t.is_sign("%")) && find_unit(t.text); }

std::string count_text(std::size_t n) { return n == 0 ? "none" : std::to_string(n); }

std::size_t inputs_of(Op op) {
    const auto& inputs = row_of(op).inputs;
    return static_cast<std::size_t>(std::find(std::begin(inputs), std::end(inputs), Operand::none) -
                                    std::begin(inputs));
}

}  // namespace

NodePtr Parser::prefix_word() {
    Token& t = tokens_[at_];
    const bool called = ahead(1).is_sign("(");
    const WordHelp* w = find_word(t.text);
    if (!w) {
        const WordHelp* meant = find_word_any_case(t.text);
        const bool capitals =
            meant && meant->word != t.text && (is_reserved(t.text) || (called && meant->kind == WordKind::block));
        if (capitals) {
            mistake(t.span, "`" + t.text + "` is not the same as `" + meant->word + "`", "write `" + meant->word + "`",
                    "capital and small letters are different");
            t.text = meant->word;
            w = meant;
        }
    }
    const Token token = t;
    if (!w && is_unit_word(token)) return stray_unit(take());
    if (!w) {
        take();
        if (called) return unknown_call(token);
        NodePtr node = make(SyntaxShape::name, Op::signal, token.span, token.span);
        node->text = token.text;
        return node;
    }
    switch (w->kind) {
        case WordKind::block:
            take();
            return call(*w, token);
        case WordKind::constant: {
            take();
            NodePtr node = make(SyntaxShape::truth, Op::truth, token.span, token.span);
            node->flag = w->word == "TRUE";
            return node;
        }
        case WordKind::mode: {
            take();
            NodePtr node = make(SyntaxShape::mode, Op::mode, token.span, token.span);
            node->mode = w->mode;
            return node;
        }
        case WordKind::signal: {
            take();
            NodePtr node = make(SyntaxShape::name, Op::signal, token.span, token.span);
            node->text = token.text;
            return node;
        }
        case WordKind::logic:
        case WordKind::comparison:
        case WordKind::arithmetic:
        case WordKind::part:
            break;
    }
    if (w->op == Op::not_) {
        take();
        std::vector<NodePtr> args;
        args.push_back(nested(strength_of_prefix));
        const Span span = join(token.span, args[0]->span);
        return make(SyntaxShape::apply, Op::not_, token.span, span, std::move(args));
    }
    return stray_word(*w, token);
}

// A key word in a place where a value should be.
NodePtr Parser::stray_word(const WordHelp& w, const Token& token) {
    if (w.kind == WordKind::part) {
        const bool position = w.word == "on" || w.word == "off";
        mistake(token.span, "`" + w.word + "` cannot be used alone",
                position ? "to ask whether a signal is on, use its name: `key` for on, `NOT key` for off"
                         : "write `" + w.form + "`, for example");
        take();
        if (!now().is_sign("(")) return error_node();
        take();
        return error_node(inputs());
    }
    mistake(token.span, "something is missing before `" + w.word + "`", "write `" + w.form + "`, for example");
    return error_node();
}

NodePtr Parser::stray_unit(const Token& token) {
    if (!quiet_ && !abandoned_)
        report_.error(
            "reserved-name", token.span,
            "`" + token.text + "` is a unit (" + find_unit(token.text)->meaning + ") and needs a number in front of it",
            "", "if it should be a signal, give the signal another name");
    return error_node();
}

bool Parser::open(const Token& word, const std::string& form) {
    if (now().is_sign("(")) {
        take();
        return true;
    }
    mistake(word.span, "`" + word.text + "` needs its inputs in parentheses after it",
            "write `" + form + "`, for example");
    return false;
}

std::vector<NodePtr> Parser::inputs() {
    std::vector<NodePtr> args;
    if (++nesting_ > nesting_limit) {
        --nesting_;
        too_deep(here(), too_many_levels());
        return args;
    }
    if (now().is_sign(")")) {
        take();
        --nesting_;
        return args;
    }
    for (;;) {
        if (now().kind == TokenKind::word && ahead(1).is_sign(":=")) {
            mistake(join(now().span, ahead(1).span), "the inputs of an element are written in order, without names",
                    "delete " + report_.quote(join(now().span, ahead(1).span)));
            take();
            take();
            quiet_ = false;
        }
        args.push_back(sequence());
        if (!now().is_sign(",")) break;
        take();
    }
    --nesting_;
    close_bracket();
    return args;
}

NodePtr Parser::call(const WordHelp& w, const Token& token) {
    if (!open(token, w.form)) return error_node();
    if (w.op == Op::table) return table_call(token);
    if (w.op == Op::band) return band_call(token);
    std::vector<NodePtr> args = inputs();
    const Span span{token.span.begin, tokens_[at_ - 1].span.end};
    const std::size_t wanted = inputs_of(w.op);
    if (args.size() != wanted) {
        const bool few = args.size() < wanted;
        if (!quiet_ && !abandoned_)
            report_.error(few ? "too-few-inputs" : "too-many-inputs", span,
                          "`" + w.word + "` needs " + std::to_string(wanted) + (wanted == 1 ? " input" : " inputs") +
                              " and has " + count_text(args.size()) + " here",
                          few ? "" : "a comma separates inputs; decimals are written with a point",
                          "write `" + w.form + "`, for example");
        return error_node(std::move(args));
    }
    return make(SyntaxShape::apply, w.op, token.span, span, std::move(args));
}

NodePtr Parser::unknown_call(const Token& token) {
    std::vector<std::string> blocks;
    for (const WordHelp& w : element_table())
        if (w.kind == WordKind::block) blocks.push_back(w.word);
    const auto meant = nearest(token.text, blocks);
    take();
    std::vector<NodePtr> args = inputs();
    if (!abandoned_)
        report_.error("unknown-element", token.span, "there is no element `" + token.text + "`",
                      "only an element has inputs in parentheses after it",
                      meant ? "did you mean `" + *meant + "`?"
                            : "write a signal without parentheses; for the elements see `lanyard help expressions`");
    return error_node(std::move(args));
}

NodePtr Parser::table_call(const Token& token) {
    const WordHelp& w = *find_word(token.text);
    if (now().kind != TokenKind::word || find_word(now().text)) {
        mistake(here(), "the first input of `table` is the name of a table", "write `" + w.form + "`, for example");
        return error_node(inputs());
    }
    const Token name = take();
    std::vector<NodePtr> args;
    if (now().is_sign(",")) {
        take();
        args = inputs();
    } else {
        close_bracket();
    }
    const Span span{token.span.begin, tokens_[at_ - 1].span.end};
    NodePtr node = make(SyntaxShape::apply, Op::table, name.span, span, std::move(args));
    node->text = name.text;
    return node;
}

// on > 104 degC
NodePtr Parser::band_point(bool& is_on, bool& is_above) {
    const WordHelp& band = *find_word(op_word(Op::band));
    const std::string hint = "write `" + band.form + "`, for example";
    if (!now().is_word("on") && !now().is_word("off")) {
        mistake(here(), "in `band`, the points for going on and off are missing", hint);
        return nullptr;
    }
    is_on = take().text == "on";
    const WordHelp* sign = infix();
    if (!sign || (sign->op != Op::lt && sign->op != Op::gt)) {
        mistake(here(), "in `band`, `on` and `off` are followed by `<` or `>`", hint);
        return nullptr;
    }
    is_above = sign->op == Op::gt;
    take();
    NodePtr point = expression(precedence(Op::add));
    return point;
}

NodePtr Parser::band_call(const Token& token) {
    const WordHelp& band = *find_word(op_word(Op::band));
    const std::string hint = "write `" + band.form + "`, for example";
    std::vector<NodePtr> args;
    if (++nesting_ > nesting_limit) {
        --nesting_;
        too_deep(token.span, too_many_levels());
        return error_node();
    }
    args.push_back(sequence());
    bool on[2] = {false, false}, above[2] = {false, false};
    int points = 0;
    for (; points < 2 && now().is_sign(","); ++points) {
        take();
        NodePtr point = band_point(on[points], above[points]);
        if (!point) break;
        args.push_back(std::move(point));
        if (!at_closer()) break;
    }
    --nesting_;
    const bool complete = points == 2 && on[0] != on[1] && above[0] != above[1];
    if (points < 2 || on[0] == on[1])
        mistake(token.span, "`band` needs a value and two points, one for going on and one for going off", hint);
    else if (above[0] == above[1])
        mistake(token.span, "`band` must go on in one direction and off in the other", hint);
    else if (!at_end() && !now().is_sign(")"))
        mistake(here(),
                now().is_sign(",") ? "`band` has only two points" : "a `)` is missing before " + report_.quote(here()),
                hint);
    while (!at_end() && !now().is_sign(")")) take();
    if (!complete) {
        if (!at_end()) take();
        return error_node(std::move(args));
    }
    close_bracket();
    if (!on[0]) std::swap(args[1], args[2]);
    const Span span{token.span.begin, tokens_[at_ - 1].span.end};
    NodePtr node = make(SyntaxShape::band, Op::band, token.span, span, std::move(args));
    node->flag = on[0] ? above[0] : above[1];
    return node;
}

NodePtr Parser::literal() {
    const Token token = take();
    NodePtr node = make(SyntaxShape::literal, Op::number, token.span, token.span);
    node->number = token.number;
    node->text = token.text;
    if (now().is_word(op_word(Op::vote))) return vote(std::move(node), take());
    unit_of(*node);
    return node;
}

// The unit behind a number, which may be a quotient: units are no names, so `/ s` cannot divide by anything else.
void Parser::unit_of(SyntaxNode& literal) {
    if (is_unit_word(now())) {
        std::string symbol = now().text;
        literal.span.end = take().span.end;
        while (now().is_sign("/") && is_unit_word(ahead(1)) && find_unit(symbol + "/" + ahead(1).text)) {
            take();
            symbol += "/" + now().text;
            literal.span.end = take().span.end;
        }
        literal.unit = find_unit(symbol);
        literal.text += " " + symbol;
        // "90 deg C" is no angle followed by something
        if (symbol != "deg" || !(now().is_word("C") || now().is_word("F"))) return;
        literal.unknown_unit = symbol + " " + now().text;
        literal.head = join(tokens_[at_ - 1].span, now().span);
        literal.span.end = take().span.end;
        return;
    }
    // Any other word behind a number was meant as a unit, except those that begin something new.
    if (now().kind != TokenKind::word || find_word_any_case(now().text) || ahead(1).is_sign("(")) return;
    literal.unknown_unit = now().text;
    literal.head = now().span;
    literal.span.end = take().span.end;
}

NodePtr Parser::vote(NodePtr number, const Token& of) {
    const WordHelp& w = *find_word(of.text);
    if (!open(of, w.form)) return error_node();
    std::vector<NodePtr> args = inputs();
    const Span span{number->span.begin, tokens_[at_ - 1].span.end};
    NodePtr node = make(SyntaxShape::apply, Op::vote, join(number->span, of.span), span, std::move(args));
    node->number = number->number;
    node->text = number->text;
    return node;
}

NodePtr Parser::signed_literal() {
    Span sign = now().span;
    const bool negative = now().is_sign("-");
    if (negative) take();
    if (now().kind != TokenKind::number) {
        if (now().kind != TokenKind::bad && !report_.failed())
            report_.error("syntax-number", here(), "a number is missing here", "", "write a number with its unit");
        return nullptr;
    }
    const Token token = take();
    NodePtr node = make(SyntaxShape::literal, Op::number, token.span, token.span);
    node->number = negative ? Rational{-token.number} : token.number;
    node->text = (negative ? "-" : "") + token.text;
    if (negative) node->span.begin = sign.begin;
    unit_of(*node);
    return node;
}

}  // namespace lanyard::lang
