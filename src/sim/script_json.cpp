#include <algorithm>

#include "base/suggest.hpp"
#include "model/json.hpp"
#include "model/pointer.hpp"
#include "sim/script_names.hpp"

namespace lanyard::sim {

namespace {

class JsonScript {
 public:
    explicit JsonScript(const ScriptReading& r) : r_(r) {}

    std::optional<Script> read() {
        const auto tree = json::parse(r_.source, json::Limits{}, r_.out);
        if (!tree || r_.out.has_errors()) return {};
        if (!is_object(*tree, "", "a script")) return {};
        std::optional<Rational> until;
        each_member(*tree, "", {"until", "changes", "note"}, [&](const std::string& key, const json::Value& v) {
            if (key == "until") until = script_time(r_, text_of(v, "/until"), "the end of the run");
            if (key == "changes") read_changes(v);
        });
        if (r_.out.has_errors()) return {};
        if (!until) until = last_ + 1;
        return gather(r_, settings_, *until);
    }

 private:
    LocatedText text_of(const json::Value& v, const std::string& pointer) const {
        const bool quoted = v.kind == json::Kind::string;
        Place p = r_.source.place_of(v.offset + (quoted ? 1 : 0), quoted && v.length > 2 ? v.length - 2 : v.length);
        std::string text = v.text;
        if (v.kind == json::Kind::flag) text = v.flag ? "true" : "false";
        return {text, p, v.escaped, pointer};
    }

    bool is_object(const json::Value& v, const std::string& pointer, const std::string& what) const {
        if (v.kind == json::Kind::object) return true;
        r_.error("script-form", text_of(v, pointer), what + " is an object, this is " + json::kind_words(v.kind));
        return false;
    }

    template <class F>
    void each_member(const json::Value& object, const std::string& pointer, const std::vector<std::string>& keys,
                     const F& f) const {
        for (const auto& m : object.members) {
            if (std::find(keys.begin(), keys.end(), m.key) != keys.end()) {
                f(m.key, m.value);
                continue;
            }
            const auto near = nearest(m.key, keys);
            const LocatedText where{m.key, r_.source.place_of(m.key_offset, m.key_length), false,
                                    json::child(pointer, m.key)};
            r_.error("script-form", where, "a script has no key \"" + m.key + "\" here", "",
                     near ? "did you mean \"" + *near + "\"?" : "");
        }
    }

    void read_changes(const json::Value& list) {
        if (list.kind != json::Kind::array) {
            r_.error("script-form", text_of(list, "/changes"),
                     "changes is a list, this is " + json::kind_words(list.kind));
            return;
        }
        for (std::size_t k = 0; k < list.items.size(); ++k) read_change(list.items[k], json::child("/changes", k));
    }

    void read_change(const json::Value& v, const std::string& pointer) {
        if (!is_object(v, pointer, "a change")) return;
        std::optional<Rational> at;
        const json::Value* set = nullptr;
        each_member(v, pointer, {"at", "set", "note"}, [&](const std::string& key, const json::Value& value) {
            if (key == "at") at = script_time(r_, text_of(value, json::child(pointer, "at")), "this change");
            if (key == "set") set = &value;
        });
        if (!v.find("at"))
            r_.error("script-form", text_of(v, pointer), "this change has no \"at\"", "", "\"at\": \"1 s\"");
        if (!set) r_.error("script-form", text_of(v, pointer), "this change sets nothing", "", "\"set\": {...}");
        if (!set || !is_object(*set, json::child(pointer, "set"), "\"set\"")) return;
        if (at && *at > last_) last_ = *at;
        for (const auto& m : set->members) read_setting(m, at.value_or(0), json::child(pointer, "set"));
    }

    void read_setting(const json::Member& m, const Rational& at, const std::string& pointer) {
        const std::string here = json::child(pointer, m.key);
        const LocatedText name{m.key, r_.source.place_of(m.key_offset, m.key_length), false, here};
        const auto id = settable(r_, name);
        if (!id) return;
        const LocatedText text = text_of(m.value, here);
        const bool plain = m.value.kind == json::Kind::flag || m.value.kind == json::Kind::string ||
                           m.value.kind == json::Kind::number;
        if (!plain) {
            r_.error("script-value", text, "a value is expected here, this is " + json::kind_words(m.value.kind));
            return;
        }
        if (const auto value = setting_value(r_, *id, text, ""))
            settings_.push_back({at, {*id, *value, text.place, here}});
    }

    const ScriptReading& r_;
    std::vector<TimedSetting> settings_;
    Rational last_ = 0;
};

}  // namespace

std::optional<Script> read_json_script(const ScriptReading& r) { return JsonScript(r).read(); }

}  // namespace lanyard::sim
