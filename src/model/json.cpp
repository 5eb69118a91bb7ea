// nlohmann's parser finds the tokens; it tells neither where they stand nor how numbers were written. Both are
// recovered by a cursor that walks over the text beside it: between two events there is only white space, a comma or
// a colon, so the next token begins where those end. The parser keeps its own stack, and so does the builder here:
// a file nested a million deep ends at the depth limit, not in an overflow.
// Tested by: tests/model/json_test.cpp, tests/model/mutation_test.cpp
#include "model/json.hpp"

#include <algorithm>
#include <cstdint>
#include <nlohmann/json.hpp>
#include <unordered_map>

#include "model/pointer.hpp"

namespace lanyard::model::json {

namespace {

class Builder {
 public:
    Builder(const SourceText& source, const Limits& limits, Diagnostics& out)
        : source_(source), text_(source.text()), limits_(limits), out_(out) {
        if (text_.starts_with("\xEF\xBB\xBF")) cursor_ = 3;
    }

    bool null() { return leaf(Kind::null, word_length()); }
    bool boolean(bool value) {
        if (!leaf(Kind::flag, word_length())) return false;
        last_->flag = value;
        return true;
    }
    bool number_integer(std::int64_t) { return number(); }
    bool number_unsigned(std::uint64_t) { return number(); }
    bool number_float(double, const std::string&) { return number(); }
    bool string(std::string& value) {
        const std::size_t length = string_length();
        if (!leaf(Kind::string, length)) return false;
        last_->escaped = value.size() + 2 != length;
        last_->text = std::move(value);
        return true;
    }
    bool binary(const std::vector<std::uint8_t>&) { return false; }

    bool start_object(std::size_t) {
        keys_.emplace_back();
        return open(Kind::object);
    }
    bool start_array(std::size_t) { return open(Kind::array); }
    bool end_object() {
        keys_.pop_back();
        return close();
    }
    bool end_array() { return close(); }

    bool key(std::string& name) {
        const std::size_t at = skip(text_, cursor_, ",:");
        cursor_ = at;
        const std::size_t length = string_length();
        cursor_ = at + length;
        Member member;
        member.key_offset = at;
        member.key_length = length;
        const auto [first, is_new] = keys_.back().emplace(name, at);
        member.duplicate = !is_new;
        if (!is_new) report_duplicate(name, at, length, first->second);
        member.key = std::move(name);
        stack_.back()->members.push_back(std::move(member));
        return true;
    }

    bool parse_error(std::size_t position, const std::string&, const nlohmann::json::exception& problem) {
        const std::size_t at = std::min(position > 0 ? position - 1 : 0, text_.size());
        const std::size_t bracket = stack_.empty() ? std::string::npos : stack_.back()->offset;
        out_.add(syntax_error(source_, cursor_, at, problem.what(), bracket));
        return false;
    }

    Value take() { return std::move(root_); }

 private:
    std::size_t word_length() {
        const std::size_t from = skip(text_, cursor_, ",:");
        std::size_t to = from;
        while (to < text_.size() && text_[to] >= 'a' && text_[to] <= 'z') ++to;
        return to - from;
    }
    std::size_t string_length() {
        const std::size_t from = skip(text_, cursor_, ",:");
        std::size_t to = from + 1;
        while (to < text_.size() && text_[to] != '"') to += text_[to] == '\\' ? 2U : 1U;
        return to + 1 - from;
    }
    bool number() {
        const std::size_t from = skip(text_, cursor_, ",:");
        const std::size_t to = std::min(text_.find_first_not_of("+-.0123456789eE", from), text_.size());
        if (!leaf(Kind::number, to - from)) return false;
        last_->text = text_.substr(from, to - from);
        return true;
    }

    bool place_value(Kind kind, std::size_t length) {
        if (++count_ > limits_.values) return too_many();
        Value value;
        value.kind = kind;
        value.offset = skip(text_, cursor_, ",:");
        value.length = length;
        cursor_ = value.offset + length;
        if (stack_.empty()) {
            root_ = std::move(value);
            last_ = &root_;
        } else if (stack_.back()->kind == Kind::object) {
            stack_.back()->members.back().value = std::move(value);
            last_ = &stack_.back()->members.back().value;
        } else {
            stack_.back()->items.push_back(std::move(value));
            last_ = &stack_.back()->items.back();
        }
        return true;
    }
    bool leaf(Kind kind, std::size_t length) { return place_value(kind, length); }
    bool open(Kind kind) {
        if (!place_value(kind, 1)) return false;
        // A container is the last element of its parent for as long as it is open, so this pointer stays good.
        stack_.push_back(last_);
        return stack_.size() <= limits_.depth || too_deep();
    }
    bool close() {
        cursor_ = skip(text_, cursor_, ",:") + 1;
        stack_.pop_back();
        return true;
    }

    std::string pointer() const {
        std::string path;
        for (const Value* v : stack_) {
            if (v->kind == Kind::object && !v->members.empty()) path = child(path, v->members.back().key);
            if (v->kind == Kind::array) path = child(path, v->items.empty() ? 0 : v->items.size() - 1);
        }
        return path;
    }

    void report_duplicate(const std::string& name, std::size_t at, std::size_t length, std::size_t first) {
        std::string path;
        for (std::size_t i = 0; i + 1 < stack_.size(); ++i) {
            const Value* v = stack_[i];
            path = v->kind == Kind::object ? child(path, v->members.back().key) : child(path, v->items.size() - 1);
        }
        const auto line = std::to_string(source_.place_of(first).line);
        Diagnostic d{"duplicate-key", Severity::error, child(path, name), source_.place_of(at, length), "", "", ""};
        d.what = (name.size() > 60 ? "this key" : '"' + name + '"') +
                 " appears twice in this object; the first is in line " + line;
        d.why = "only one of the two can apply, and the file does not say which";
        d.hint = "remove one, or rename it";
        if (name == "scan" && stack_.size() == 1)
            d.why = "a model has one controller with one scan period; two controllers in one model are not supported";
        out_.add(std::move(d));
    }
    bool too_many() {
        const std::size_t at = skip(text_, cursor_, ",:");
        out_.add({"too-many-values", Severity::error, "", source_.place_of(at),
                  "the file contains more than " + std::to_string(limits_.values) + " values",
                  "this is a limit of lanyard, so that a broken file cannot fill the memory", ""});
        return false;
    }
    bool too_deep() {
        out_.add({"too-deep", Severity::error, pointer(), source_.place_of(stack_.back()->offset),
                  "brackets are nested more than " + std::to_string(limits_.depth) + " deep",
                  "no model needs more than a few levels", "look for brackets that are never closed"});
        return false;
    }

    const SourceText& source_;
    const std::string& text_;
    const Limits& limits_;
    Diagnostics& out_;
    std::size_t cursor_ = 0;
    std::size_t count_ = 0;
    Value root_;
    Value* last_ = nullptr;
    std::vector<Value*> stack_;
    std::vector<std::unordered_map<std::string, std::size_t>> keys_;
};

}  // namespace

const Member* Value::find(std::string_view key) const {
    for (const auto& m : members)
        if (!m.duplicate && m.key == key) return &m;
    return nullptr;
}

std::string kind_words(Kind kind) {
    switch (kind) {
        case Kind::null:
            return "null";
        case Kind::flag:
            return "true or false";
        case Kind::number:
            return "a bare number";
        case Kind::string:
            return "a text";
        case Kind::array:
            return "a list";
        case Kind::object:
            return "an object";
    }
    return "";
}

std::size_t skip(std::string_view text, std::size_t from, std::string_view also) {
    while (from < text.size()) {
        const char c = text[from];
        const bool white = c == ' ' || c == '\t' || c == '\n' || c == '\r';
        if (!white && also.find(c) == std::string_view::npos) break;
        ++from;
    }
    return from;
}

std::optional<Value> parse(const SourceText& source, const Limits& limits, Diagnostics& out) {
    if (!check_text(source, limits, out)) return std::nullopt;
    Builder builder(source, limits, out);
    const auto begin = source.text().begin();
    if (!nlohmann::json::sax_parse(begin, source.text().end(), &builder)) return std::nullopt;
    return builder.take();
}

}  // namespace lanyard::model::json
