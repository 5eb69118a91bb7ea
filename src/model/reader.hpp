// Objects of the file, read by the table of format.hpp: what is missing, unknown or of the wrong kind is said here, so
// that the builders only ever see values that look right.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "lang/compile.hpp"
#include "model/format.hpp"
#include "model/json.hpp"
#include "model/pointer.hpp"

namespace lanyard::model {

// A name or piece of text in back quotes, shortened if it is long.
std::string quoted(const std::string& text);

// Where messages go, and how a value of the tree becomes a place in the file.
class Reading {
 public:
    explicit Reading(const SourceText& source) : source_(source) {}

    Place place(const json::Value& v) const { return source_.place_of(v.offset, v.length); }
    Place key_place(const json::Member& m) const { return source_.place_of(m.key_offset, m.key_length); }
    LocatedText located(const json::Value& v, const std::string& pointer) const;

    void add(Diagnostic d) { out().add(std::move(d)); }
    void error(const char* code, const std::string& pointer, Place place, std::string what, std::string why = "",
               std::string hint = "");
    void warning(const char* code, const std::string& pointer, Place place, std::string what, std::string why = "",
                 std::string hint = "");
    // "did you mean ...?" costs a look at every name; a file with a hundred thousand misspelt names must end as well.
    std::string suggestion(const std::string& word, const std::vector<std::string>& candidates);
    bool may_suggest(std::size_t candidates);

    Diagnostics& out() { return diverted_ == nullptr ? out_ : *diverted_; }
    // Null = to the file's own list. Returns where they went until now.
    Diagnostics* divert(Diagnostics* to) { return std::exchange(diverted_, to); }
    const SourceText& source() const { return source_; }

 private:
    const SourceText& source_;
    Diagnostics out_;
    Diagnostics* diverted_ = nullptr;
    std::size_t candidates_left_ = 5'000'000;
};

// A text inside a located text.
LocatedText part_of(const LocatedText& whole, std::size_t from, std::size_t length);
LocatedText trimmed(const LocatedText& text);

// A name of the user's own in a map, with what it names. `value` is null where that had the wrong kind.
struct Entry {
    std::string name;
    Place place;
    std::string pointer;
    const json::Value* value = nullptr;
    bool good_name = true;
};

class ObjectReader {
 public:
    ObjectReader(Reading& reading, const ObjectHelp& help, const json::Value& object, std::string pointer);

    bool good() const { return good_; }                  // nothing missing, nothing of the wrong kind
    bool has(std::string_view key) const;                // there at all, right or wrong
    const json::Value* get(std::string_view key) const;  // null if absent or of the wrong kind
    std::string pointer(std::string_view key) const { return json::child(pointer_, key); }
    const std::string& pointer() const { return pointer_; }
    Place place() const { return place_; }
    Place place(std::string_view key) const;  // of the value; of the object where there is none

    std::optional<LocatedText> text(std::string_view key) const;
    std::vector<LocatedText> texts(std::string_view key) const;  // one text or a list
    std::string word(std::string_view key, const std::string& otherwise = "") const;
    bool flag(std::string_view key) const;
    long count(std::string_view key) const;                  // 0 if there is none
    std::vector<Entry> entries(std::string_view key) const;  // maps

 private:
    const KeyHelp* help_for(std::string_view key) const;
    void read_key(const json::Member& m);
    void unknown_key(const json::Member& m);
    void find_missing();

    Reading& reading_;
    const ObjectHelp& help_;
    std::string pointer_;
    Place place_;
    bool good_ = true;
    std::vector<std::pair<std::string, const json::Value*>> values_;  // null = of the wrong kind
};

// Which of several kinds of objects this one is, told by their first keys; null (and an error) if none or two. The
// first key of one kind may be a further key of another one, which is then meant. `words` are more kinds, too many to
// be listed in a message.
const ObjectHelp* choose_kind(Reading& reading, const std::vector<std::string>& ids, const json::Value& object,
                              const std::string& pointer, Place place, const std::string& title,
                              const std::vector<std::string>& words = {});

// The kind or the word that a claim is written with; null (and an error) if none or two.
const ObjectHelp* choose_claim(Reading& reading, const json::Value& claim, const std::string& pointer, Place place);

// Does the value look as the key says? Reports if not.
bool check_shape(Reading& reading, const KeyHelp& key, const json::Value& value, const std::string& pointer);

}  // namespace lanyard::model
