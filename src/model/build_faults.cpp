// The section "faults", and the list of everything that can break.
#include "model/build.hpp"
#include "model/fault_kinds.hpp"
#include "model/fault_list.hpp"
#include "model/names.hpp"

namespace lanyard::model {

namespace {

class FaultReader {
 public:
    explicit FaultReader(Build& b) : b_(b), list_(possible_faults(b.model, b.wires)) {
        for (std::size_t i = 0; i < list_.size(); ++i)
            for (const auto& name : names_of(list_[i].fault)) index_[name].push_back(i);
    }

    void read(const ObjectReader& top) {
        const auto entries = top.entries("faults");
        for (const auto& e : entries)  // what is said of one fault counts more than what is said of its kind
            if (e.name.starts_with(any_word)) of_kind(e);
        for (const auto& e : entries)
            if (!e.name.starts_with(any_word)) of_one(e);
    }

    void finish() {
        for (auto& p : list_) {
            const bool value_missing =
                !p.fault.value && (p.fault.kind == FaultKind::sensor_drift || p.fault.kind == FaultKind::relay_slow);
            if (p.never || value_missing) continue;
            const auto index = b_.model.faults.next();
            if (p.attach) p.attach(b_.model, index);
            const Named named{Thing::fault, index, {}, false, true, p.fault.place};
            if (b_.names.emplace(p.fault.name, named).second) b_.name_order.push_back(p.fault.name);
            for (const auto& name : names_of(p.fault)) b_.faults_of[name].push_back(index);
            b_.model.faults.push_back(std::move(p.fault));
        }
    }

 private:
    void of_kind(const Entry& e) {
        std::vector<PossibleFault*> meant;
        if (!is_kind_of_faults(e.name)) {
            std::vector<std::string> known;
            for (const auto& k : fault_kind_table())
                if (!k.word.empty()) known.push_back(any_word + k.part + "." + k.word);
            b_.reading.error("unknown-fault", e.pointer, e.place, "there is no kind of fault " + quoted(e.name),
                             "`lanyard help faults` lists the kinds", b_.reading.suggestion(e.name, known));
            return;
        }
        for (auto& p : list_)
            if (is_of_kind(p.fault, e.name)) meant.push_back(&p);
        apply(e, meant);
    }

    void of_one(const Entry& e) {
        const auto known = index_.find(e.name);
        const auto means = [&](const Fault& f) {
            return f.name == e.name || (is_of_pieces(f.kind) && e.name == f.part + f.name.substr(f.name.rfind('.')));
        };
        if (known != index_.end() && means(list_[known->second.front()].fault)) {
            std::vector<PossibleFault*> meant;
            for (const std::size_t i : known->second) meant.push_back(&list_[i]);
            apply(e, meant);
        } else if (known != index_.end()) {
            std::string list;
            for (std::size_t i = 0; i < known->second.size() && i < 6; ++i)
                list += (i == 0 ? "" : ", ") + list_[known->second[i]].fault.name;
            b_.reading.error("unknown-fault", e.pointer, e.place,
                             quoted(e.name) + " is a part, but an entry is for one fault or one kind of fault", "",
                             "its faults are " + list);
        } else if (e.name.find('.') == std::string::npos) {
            event(e);
        } else {
            b_.reading.error("unknown-fault", e.pointer, e.place, "there is no fault " + quoted(e.name),
                             "before the point is a part, after it the fault", suggestion(e.name));
        }
    }

    std::string suggestion(const std::string& word) {
        if (!b_.reading.may_suggest(list_.size())) return "";
        std::vector<std::string> names;
        for (const auto& p : list_) names.push_back(p.fault.name);
        return b_.reading.suggestion(word, names);
    }

    void event(const Entry& e) {
        if (!check_name(b_.reading, e.name, e.place, e.pointer)) return;
        if (const auto other = b_.names.find(e.name); other != b_.names.end()) {
            declare(b_, e, {Thing::fault});
            return;
        }
        PossibleFault p;
        p.fault.name = p.fault.part = e.name;
        p.fault.place = e.place;
        p.fault.pointer = e.pointer;
        list_.push_back(std::move(p));
        apply(e, {&list_.back()});
    }

    void apply(const Entry& e, const std::vector<PossibleFault*>& meant) {
        if (e.value == nullptr) return;
        if (e.value->kind == json::Kind::string) {
            for (auto* p : meant) p->never = true;
            return;
        }
        const ObjectReader object(b_.reading, object_help("fault"), *e.value, e.pointer);
        numbers(object, meant);
        for (const char* key : {"reads", "by", "takes"}) value(object, key, meant);
        for (auto* p : meant) {
            p->never = false;
            if (object.flag("comes_and_goes")) p->fault.comes_and_goes = true;
        }
    }

    void numbers(const ObjectReader& object, const std::vector<PossibleFault*>& meant) {
        std::optional<Rational> rate, every, probability;
        if (const auto text = object.text("rate")) rate = read_rate(*text);
        if (const auto text = object.text("test_every"))
            if (const auto t = read_seconds(*text)) every = *t / 3600;
        if (const auto* v = object.get("probability"))
            probability = read_probability(*v, object.pointer("probability"));
        if (object.has("rate") && object.has("probability"))
            b_.reading.error("rate-and-probability", object.pointer(), object.place("probability"),
                             "a fault has a rate or a probability, not both",
                             "a probability is that the fault is present, a rate is how often it occurs", "keep one");
        if (object.has("test_every") && !object.has("rate"))
            b_.reading.error("idle-key", object.pointer("test_every"), object.place("test_every"),
                             "\"test_every\" needs \"rate\"", "it says how long a fault may stay unnoticed");
        for (auto* p : meant) {
            if (rate) p->fault.per_hour = rate;
            if (every) p->fault.test_every = every;
            if (probability) p->fault.probability = probability;
            if (rate) p->fault.probability.reset();
            if (probability) p->fault.per_hour.reset();
        }
    }

    // "2e-6 per h"
    std::optional<Rational> read_rate(const LocatedText& text) {
        const std::size_t per = text.text.find(" per ");
        if (per != std::string::npos) {
            const std::string number = trimmed(part_of(text, 0, per)).text;
            const std::string unit = trimmed(part_of(text, per + 5, text.text.size() - per - 5)).text;
            const auto n = parse_decimal(number);
            const auto u = find_unit(unit);
            if (n && u && *n >= 0 && u->dimension == find_unit("s")->dimension) return *n * 3600 / u->factor;
        }
        b_.reading.error("rate-syntax", text.pointer, text.place, quoted(text.text) + " is not a fault rate",
                         "a rate is a number per time", R"(write it as in "2e-6 per h")");
        return std::nullopt;
    }

    // Between two tests there may be years.
    std::optional<Rational> read_seconds(const LocatedText& text) {
        const auto t =
            compile_number(text, find_unit("s")->dimension, true, "the time between tests", b_.reading.out());
        if (t && t->si > 0) return t->si;
        if (t) b_.reading.error("zero-time", text.pointer, text.place, "the time between tests must be above 0");
        return std::nullopt;
    }

    std::optional<Rational> read_probability(const json::Value& v, const std::string& pointer) {
        const auto p = parse_decimal(v.text);
        if (p && *p >= 0 && *p <= 1) return p;
        b_.reading.error("bad-probability", pointer, b_.reading.place(v), quoted(v.text) + " is not a probability",
                         "a probability is a number from 0 to 1");
        return std::nullopt;
    }

    void value(const ObjectReader& object, const char* key, const std::vector<PossibleFault*>& meant) {
        const auto text = object.text(key);
        if (!text) return;
        for (auto* p : meant) {
            if (fault_kind_help(p->fault.kind).value != key) {
                b_.reading.error("fault-key", text->pointer, text->place,
                                 "\"" + std::string(key) + "\" has no meaning for " + quoted(p->fault.name),
                                 fault_kind_help(p->fault.kind).meaning, "leave it out");
                return;
            }
            if (!read_value(*text, key, p->fault)) return;
        }
    }

    bool read_value(const LocatedText& text, const std::string& key, Fault& f) {
        std::optional<Rational> v;
        if (key == "takes") {
            v = read_time(b_, text, "the time of a slow relay", true);
        } else {
            const Signal s = b_.model.signal(b_.model.sensors[f.index].signal);
            if (!s.unit) return false;
            const bool difference = key == "by" || !s.unit->dimension.is_temperature();
            const auto n = compile_number(
                text, s.unit->dimension, difference,
                key == "by" ? "the drift of " + quoted(s.name) : "what " + quoted(s.name) + " reads", b_.reading.out());
            if (n) v = n->si;
        }
        if (key == "by" && v && *v <= 0) {
            b_.reading.error("not-above-zero", text.pointer, text.place, "a drift must be above 0");
            return false;
        }
        if (v) f.value = v;
        return v.has_value();
    }

    Build& b_;
    std::vector<PossibleFault> list_;
    std::unordered_map<std::string, std::vector<std::size_t>> index_;  // by all names
};

}  // namespace

void build_faults(Build& b, const ObjectReader& top) {
    FaultReader reader(b);
    reader.read(top);
    reader.finish();
}

}  // namespace lanyard::model
