#include "model/condition_faults.hpp"

#include <algorithm>

#include "model/fault_list.hpp"
#include "model/faults.hpp"
#include "model/split.hpp"

namespace lanyard::model {

namespace {

// Faults that the text names; empty: none.
std::vector<FaultId> faults_named(const Build& b, const std::string& text) {
    const auto known = b.faults_of.find(text);
    if (known != b.faults_of.end()) return known->second;
    std::vector<FaultId> found;
    if (!is_kind_of_faults(text)) return found;
    for (const FaultId i : b.model.faults.ids())
        if (is_of_kind(b.model.faults[i], text)) found.push_back(i);
    return found;
}

// What the kind is of: "wire". A "terminal" of an input is a name only; those that break are of connectors.
std::string breakable(const std::string& kind) {
    if (!kind.starts_with(any_word)) return "part";
    const std::string part = kind.substr(std::string(any_word).size());
    const std::string word = part.substr(0, part.find('.'));
    return word == "terminal" ? "terminal of a connector" : word;
}

// "K1.weldet": a name with a point behind a list of faults is meant to be one more of them.
bool is_like_a_fault(const std::string& text) {
    return text.find('.') != std::string::npos && text.find_first_of(" ()<>=") == std::string::npos;
}

}  // namespace

std::optional<FaultPhrase> fault_phrase(Build& b, const LocatedText& text) {
    if (const auto rest = behind_words(text, "one fault of")) return FaultPhrase{1, *rest};
    const auto behind = behind_words(text, "up to");
    if (!behind) return std::nullopt;
    const auto [number, more] = first_word(*behind);
    const auto rest = behind_words(more, "faults of");
    if (!rest) return std::nullopt;
    const bool whole = !number.text.empty() && number.text.find_first_not_of("0123456789") == std::string::npos &&
                       number.text.size() <= 4;
    const int n = whole ? std::stoi(number.text) : 0;
    if (n >= 1 && n <= most_count) return FaultPhrase{n, *rest};
    b.reading.error(
        "bad-count", number.pointer, number.place,
        quoted(number.text) + " is not a number of faults: use a whole number from 1 to " + std::to_string(most_count));
    return FaultPhrase{1, *rest};
}

bool continues_faults(const Build& b, const std::string& text) {
    // No expression begins with "any"; a single word may be a signal of the model.
    const bool is_any = text.starts_with(any_word) && is_kind_of_faults(text);
    return !faults_named(b, text).empty() || is_like_a_fault(text) || is_any || (b.of_rule && is_kind_of_faults(text));
}

bool add_faults(Build& b, Condition& c, const LocatedText& text) {
    b.mentioned.insert(text.text);
    c.fault_list.push_back(text.text);
    const auto found = faults_named(b, text.text);
    if (!found.empty()) {
        c.faults.insert(c.faults.end(), found.begin(), found.end());
        return true;
    }
    if (is_kind_of_faults(text.text)) {
        if (b.of_rule) return true;
        b.reading.error(
            "unknown-fault", text.pointer, text.place,
            "this model has no " + breakable(text.text) + " that can break as " + quoted(text.text) + " says",
            "the condition would be the same without it");
        return false;
    }
    std::string hint;
    if (b.reading.may_suggest(b.model.faults.size())) {
        std::vector<std::string> known;
        for (const auto& f : b.model.faults)
            for (const auto& name : {f.part, f.name}) known.push_back(name);
        hint = b.reading.suggestion(text.text, known);
    }
    b.reading.error("unknown-fault", text.pointer, text.place, "there is no fault " + quoted(text.text),
                    "a fault, a part, a word such as welded, `any wire` and the like, or everything", hint);
    return false;
}

LocatedText without_start(const LocatedText& text, Condition& c) {
    constexpr std::string_view words = " from the start";
    if (!text.text.ends_with(words)) return text;
    c.from_the_start = true;
    return trimmed(part_of(text, 0, text.text.size() - words.size()));
}

bool begin_faults(Build& b, Condition& c, const LocatedText& whole, const FaultPhrase& phrase) {
    if (c.at_most > 0) {
        b.reading.error("condition-syntax", whole.pointer, whole.place, "the condition has two lists of faults",
                        "say only once how many may occur", "make one list of them: one fault of K1, W3.open");
        return false;
    }
    c.at_most = phrase.at_most;
    return add_faults(b, c, without_start(phrase.rest, c));
}

void settle_faults(Build& b, Condition& c) {
    std::sort(c.faults.begin(), c.faults.end());
    c.faults.erase(std::unique(c.faults.begin(), c.faults.end()), c.faults.end());
    if (c.faults.empty()) c.at_most = 0;
    for (const FaultId f : c.faults) use_fault(b.model, f);
}

bool read_fault_object(Build& b, Condition& c, const json::Value& v, const std::string& pointer) {
    const ObjectReader object(b.reading, object_help("fault_list"), v, pointer);
    bool good = object.good();
    c.from_the_start = object.flag("from_the_start");
    c.at_most = object.get("at_most") == nullptr ? 1 : static_cast<int>(object.count("at_most"));
    if (c.at_most == 0) {
        b.reading.error("bad-count", object.pointer("at_most"), object.place("at_most"),
                        "\"at_most\" is 0: then there are no faults", "", "leave \"faults\" out");
        good = false;
    }
    for (const auto& text : object.texts("of")) good = add_faults(b, c, trimmed(text)) && good;
    return good;
}

}  // namespace lanyard::model
