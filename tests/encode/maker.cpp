#include "maker.hpp"

#include <algorithm>
#include <cstdlib>
#include <sstream>

#include "lang/operators.hpp"
#include "maker_wiring.hpp"
#include "sim/dice.hpp"

namespace lanyard::test {

using namespace sim;

namespace {

// What stands before the first stroke of "circuit/wires", and what behind it.
std::string head_of(const std::string& section) { return section.substr(0, section.find('/')); }
std::string tail_of(const std::string& section) {
    const auto stroke = section.find('/');
    return stroke == std::string::npos ? "" : section.substr(stroke + 1);
}

// The parts of one section as an object, those of sections within it as objects in it.
std::string object_of(const std::vector<Part>& list, const std::string& indent) {
    std::string out;
    std::vector<std::string> done;
    for (const auto& p : list) {
        out += (out.empty() ? "{\n" : "");
        const std::string head = head_of(p.section);
        if (!head.empty() && std::find(done.begin(), done.end(), head) != done.end()) continue;
        out += (out.size() > 2 ? ",\n" : "") + indent + "\"" + (head.empty() ? p.name : head) + "\": ";
        if (head.empty()) {
            out += p.text;
            continue;
        }
        done.push_back(head);
        std::vector<Part> inside;
        for (const auto& q : list)
            if (head_of(q.section) == head) inside.push_back({tail_of(q.section), q.name, q.text});
        out += object_of(inside, indent + "  ");
    }
    return out + "\n" + indent.substr(2) + "}";
}

}  // namespace

std::string Parts::text() const {
    std::vector<Part> all{{"", "lanyard", "1"}, {"", "name", "\"random\""}, {"", "scan", "\"10 ms\""}};
    all.insert(all.end(), list.begin(), list.end());
    return object_of(all, "  ") + "\n";
}

namespace {

using Names = std::vector<std::string>;

const std::vector<const OperatorRow*>& switching_elements() {
    static const auto all = [] {
        std::vector<const OperatorRow*> rows;
        for (const OperatorRow& r : operator_table)
            if (has_memory(r.op) && takes(r.op, Operand::truth)) rows.push_back(&r);
        return rows;
    }();
    return all;
}

class Maker {
 public:
    explicit Maker(unsigned seed) : dice_(seed), wiring_(dice_, parts_), is_wired_(chance(2)) {}

    Parts make() {
        switches();
        quantities();
        sensors();
        tables();
        wired();
        const auto outputs = 2 + dice_.below(3);
        for (std::uint64_t k = 0; k < outputs; ++k) output_names_.push_back("o" + std::to_string(k));
        if (chance(2)) {
            add("inputs", "back", "{\"reads_back\": \"o0\"}");
            seen_.push_back("back");
        }
        logic();
        for (const auto& name : output_names_) output(name);
        if (chance(3)) duty();
        if (is_wired_) wiring_.finish(positions_);
        lines();
        supply();
        engine();
        faults();
        conditions();
        claims();
        return std::move(parts_);
    }

 private:
    bool chance(std::uint64_t n) { return dice_.one_in(n); }
    long number(long lo, long hi) {
        return lo + static_cast<long>(dice_.below(static_cast<std::uint64_t>(hi - lo + 1)));
    }
    const std::string& any(const Names& n) { return dice_.pick(n); }
    static std::string quoted(const std::string& s) { return "\"" + s + "\""; }
    void add(const std::string& section, const std::string& name, const std::string& text) {
        parts_.list.push_back({section, name, text});
    }
    std::string time() { return any({"10 ms", "15 ms", "20 ms", "30 ms", "40 ms", "60 ms"}); }
    std::string interval() {
        return any({"0 ms", "20 ms", "10 .. 30 ms", "20 .. 20 ms", "0 .. 40 ms", "5 .. 15 ms", "30 .. 50 ms"});
    }

    // --- expressions; `numbers` are volts ---
    struct Words {
        Names truths, numbers, compared_only, outputs_before;
        bool elements = true, mode = false, implication = false;
    };

    std::string volts() { return std::to_string(number(1, 9)) + (chance(3) ? ".5 V" : " V"); }

    std::string numeric(const Words& w, int depth) {
        if (depth <= 0 || chance(2)) return any(w.numbers);
        const std::string x = numeric(w, depth - 1);
        switch (dice_.below(w.elements ? 7 : 4)) {
            case 0:
                return "(" + x + " + 1 V)";
            case 1:
                return "(" + x + " - " + any(w.numbers) + ")";
            case 2:
                return "2 * " + x;
            case 3:
                return "(-" + x + " / 2)";
            case 4:
                return "previous(" + x + ")";
            case 5:
                return has_table_ ? "table(bend, " + x + ")" : x;
            default:
                return "(" + x + " + rate(" + x + ", " + any({"10 ms", "20 ms", "30 ms"}) + ") * 0.01 s)";
        }
    }

    std::string comparison(const Words& w) {
        const std::string op = any({"<", "<=", ">", ">=", "=", "<>"});
        if (!w.compared_only.empty() && (w.numbers.empty() || chance(3)))
            return any(w.compared_only) + " " + op + " " + volts();
        return numeric(w, 1) + " " + op + " " + volts();
    }

    bool counts(const Words& w) const { return !w.numbers.empty() || !w.compared_only.empty(); }

    std::string band(const Words& w) {
        const std::string x = w.numbers.empty() ? any(w.compared_only) : numeric(w, 1);
        const long off = number(1, 7);
        const std::string low = std::to_string(off) + " V", high = std::to_string(number(off, 9)) + " V";
        return chance(2) ? "band(" + x + ", on > " + high + ", off < " + low + ")"
                         : "band(" + x + ", on < " + low + ", off > " + high + ")";
    }

    std::string leaf(const Words& w) {
        if (w.mode && chance(4))
            return "(engine " + any({"=", "<>"}) + " " + any({"stopped", "cranking", "running", "coasting"}) + ")";
        if (counts(w) && chance(3)) return "(" + comparison(w) + ")";
        if (w.truths.empty()) return "TRUE";
        return any(w.truths);
    }

    std::string truth(const Words& w, int depth) {
        if (depth <= 0) return leaf(w);
        const auto sub = [&] { return truth(w, depth - 1); };
        switch (dice_.below(w.elements ? 9 + switching_elements().size() : 6)) {
            case 0:
                return leaf(w);
            case 1:
                return "NOT " + leaf(w);
            case 2:
                return "(" + sub() + " AND " + sub() + ")";
            case 3:
                return "(" + sub() + " OR " + sub() + ")";
            case 4:
                return "(" + sub() + " XOR " + sub() + ")";
            case 5:
                return "2 of (" + leaf(w) + ", " + leaf(w) + ", " + sub() + ")";
            case 6:
                return counts(w) ? band(w) : leaf(w);
            case 7:
                return "previous(" + (w.outputs_before.empty() || chance(2) ? sub() : any(w.outputs_before)) + ")";
            case 8:
                return "(" + sub() + " = " + leaf(w) + ")";
            default:
                return element(w, depth);
        }
    }

    // Any element of the table whose inputs are on or off, a time, a count: a new one is among them by its row.
    std::string element(const Words& w, int depth) {
        const OperatorRow& row = *dice_.pick(switching_elements());
        std::string text;
        for (const Operand input : row.inputs) {
            if (input == Operand::none) break;
            if (!text.empty()) text += ", ";
            if (input == Operand::truth)
                text += truth(w, depth - 1);
            else if (input == Operand::count)
                text += std::to_string(number(1, 3));
            else
                text += input == Operand::time && chance(8) ? "0 s" : time();
        }
        return std::string(row.word) + "(" + text + ")";
    }

    // --- the model ---
    void switches() {
        const auto n = 1 + dice_.below(3);
        for (std::uint64_t k = 0; k < n; ++k) {
            const std::string name(1, static_cast<char>('a' + k));
            std::string text = "{\"switch\": " + std::string(chance(2) ? "\"maintained\"" : "\"momentary\"");
            if (chance(3)) text += ", \"contact\": \"normally closed\"";
            if (chance(4)) text += ", \"rests\": \"on\"";
            if (chance(3)) text += ", \"may_be_missed\": true";
            add("inputs", name, text + "}");
            seen_.push_back(name);
            positions_.push_back(name);
        }
    }

    void wired() {
        if (!is_wired_) return;
        wiring_.begin(quantity_names_.empty() || chance(2) ? "" : any(quantity_names_));
        const auto take = [](Names& to, const Names& more) { to.insert(to.end(), more.begin(), more.end()); };
        take(seen_, wiring_.inputs);
        take(positions_, wiring_.positions);
    }

    // Their lines are put in when everything that these may name is known.
    void quantities() {
        const auto n = dice_.below(3);
        for (std::uint64_t k = 0; k < n; ++k) quantity_names_.push_back("x" + std::to_string(k));
    }

    void sensors() {
        for (const auto& q : quantity_names_) {
            if (chance(4)) {  // no sensor: logic reads it exactly
                numbers_.push_back(q);
                continue;
            }
            const std::string name = "s" + q;
            std::string text = "{\"senses\": " + quoted(q);
            const bool delayed = chance(3);
            if (chance(2)) text += ", \"accuracy\": " + quoted(any({"0.5 V", "1 V"}));
            if (delayed) text += ", \"delay\": " + quoted(any({"10 ms", "25 ms"}));
            add("inputs", name, text + "}");
            (delayed ? delayed_ : numbers_).push_back(name);
        }
    }

    void tables() {
        if (numbers_.empty()) return;
        if (chance(2)) {
            has_table_ = true;
            add("tables", "bend",
                "{\"rows\": {\"of\": \"in\", \"at\": [\"2 V\", \"4 V\", \"7 V\"]}, \"cells\": [\"1 V\", \"6 V\", \"3 "
                "V\"]}");
        }
        if (chance(3)) {
            has_map_ = true;
            add("tables", "map",
                "{\"rows\": {\"of\": \"in\", \"at\": [\"2 V\", \"5 V\"]}, \"columns\": {\"of\": \"in\", \"at\": [\"3 "
                "V\", "
                "\"6 V\", \"8 V\"]}, \"cells\": [[\"0 %\", \"30 %\", \"50 %\"], [\"40 %\", \"0 %\", \"100 %\"]]}");
        }
    }

    Words logic_words() { return {seen_, numbers_, delayed_, output_names_, true, false, false}; }

    void logic() {
        const auto n = 1 + dice_.below(5);
        for (std::uint64_t k = 0; k < n; ++k) {
            const std::string name = "l" + std::to_string(k);
            if (!numbers_.empty() && chance(5)) {
                add("logic", name, quoted(numeric(logic_words(), 2)));
                numbers_.push_back(name);
                logic_numbers_.push_back(name);
                continue;
            }
            const std::string is = quoted(truth(logic_words(), 2));
            add("logic", name, chance(3) ? "{\"is\": " + is + ", \"retained\": true}" : is);
            seen_.push_back(name);
            logic_truths_.push_back(name);
        }
    }

    std::string feeds() {
        const std::string load = "load" + std::to_string(loads_.size());
        loads_.push_back(load);
        return "\"feeds\": " + quoted(load);
    }

    void behind(const std::string& name, const std::string& on) {
        if (is_wired_ && chance(2)) {
            add("outputs", name, "{" + on + wiring_.drive(name) + "}");
            return;
        }
        const auto kind = dice_.below(4);
        if (kind == 0) {
            add("outputs", name, "{" + on + "}");
            own_loads_.push_back(name);
        } else if (kind == 1) {
            add("outputs", name, "{" + on + ", " + feeds() + "}");
        } else {
            const std::string relay = "r" + name;
            add("outputs", name, "{" + on + ", \"relay\": " + quoted(relay) + "}");
            std::string text;
            if (!chance(4)) text += "\"pulls_in\": " + quoted(interval()) + ", ";
            if (!chance(4)) text += "\"drops_out\": " + quoted(interval()) + ", ";
            add("relays", relay, "{" + text + feeds() + "}");
            contacts_.push_back(relay);
        }
    }

    void output(const std::string& name) {
        behind(name, "\"on\": " + quoted(truth(logic_words(), 2)));
        seen_.push_back(name);
    }

    void duty() {
        if (!has_map_) return;
        behind("duty", "\"duty\": " + quoted("table(map, " + any(numbers_) + ", " + any(numbers_) + ")"));
    }

    Names driven() const {
        Names out = loads_;
        for (const Names* n : {&contacts_, &wiring_.loads, &wiring_.contacts})
            out.insert(out.end(), n->begin(), n->end());
        out.insert(out.end(), output_names_.begin(), output_names_.end());
        return out;
    }

    void lines() {
        has_engine_ = chance(2);
        for (const auto& q : quantity_names_) {
            std::string text = "{\"range\": \"0 .. 10 V\"";
            if (has_engine_ && chance(2)) {
                text +=
                    ", \"healthy\": {\"stopped\": \"0 .. 4 V\", \"running\": {\"within\": \"3 .. 8 V\", \"after\": " +
                    quoted(any({"20 ms", "35 ms"})) + ", \"before\": \"0 .. 9 V\"}";
                if (chance(2))
                    text +=
                        ", \"cranking\": {\"within\": \"1 .. 5 V\", \"after\": \"40 ms\", \"before\": \"0 .. 10 V\"}";
                text += "}";
            } else if (chance(3)) {
                text += ", \"healthy\": \"2 .. 9 V\"";
            }
            std::string follows;
            for (auto n = dice_.below(3); n > 0; --n) follows += (follows.empty() ? "" : ", ") + line(q);
            if (!follows.empty()) text += ", \"follows\": [" + follows + "]";
            add("quantities", q, text + "}");
        }
    }

    std::string line(const std::string& q) {
        Words w;
        w.truths = driven();
        w.truths.insert(w.truths.end(), positions_.begin(), positions_.end());
        if (chance(3)) w.numbers = {q};
        w.elements = false;
        w.mode = has_engine_;
        std::string text = "{";
        if (!chance(3)) text += "\"when\": " + quoted(truth(w, 1)) + ", ";
        if (chance(4))
            text += "\"within\": " + quoted(any({"0 .. 8 V", "2 .. 10 V"}));
        else
            text +=
                "\"changes\": " + quoted(any({"-50 .. 100 V/s", "0 .. 40 V/s", "-100 .. 0 V/s", "-200 .. 200 V/s"}));
        if (chance(4)) text += ", \"under\": \"healthy\"";
        return text + "}";
    }

    void supply() {
        if (!chance(2)) return;
        Words w;
        w.truths = positions_;
        if (chance(3)) w.truths.push_back(any(driven()));
        w.numbers = quantity_names_;
        w.elements = false;
        std::string text = "{\"when\": " + quoted(truth(w, 1));
        if (chance(2)) text += ", \"boots_in\": " + quoted(any({"0 .. 30 ms", "20 .. 40 ms", "25 ms"}));
        add("", "supply", text + "}");
    }

    void engine() {
        if (!has_engine_) return;
        Names loads = loads_;
        for (const Names* n : {&own_loads_, &wiring_.loads}) loads.insert(loads.end(), n->begin(), n->end());
        std::string with;
        if (loads.empty() || chance(3)) {
            with = quoted("magneto");
            free_load_ = true;
        }
        for (auto n = 1 + dice_.below(2); n > 0 && !loads.empty(); --n) {
            const auto k = dice_.below(loads.size());
            with += (with.empty() ? "" : ", ") + quoted(loads[k]);
            loads.erase(loads.begin() + static_cast<long>(k));
        }
        std::string text = "{\"fires_with\": [" + with + "]";
        if (!loads.empty() && !chance(4)) text += ", \"cranks_with\": " + quoted(any(loads));
        text += ", \"firing_time\": " + quoted(interval()) + ", \"coast_down\": " + quoted(interval());
        if (chance(2)) text += ", \"run_on\": " + quoted(interval());
        if (chance(4)) text += ", \"push_start\": true";
        if (chance(2)) {
            text += ", \"speed\": \"engine_speed\"";
            has_speed_ = true;
            add("quantities", "engine_speed", "\"0 .. 9000 rpm\"");
        }
        add("", "engine", text + "}");
    }

    Names all_truths() const {
        Names out = positions_;
        for (const Names* n : {&logic_truths_, &output_names_, &loads_, &contacts_, &wiring_.loads, &wiring_.contacts,
                               &wiring_.splices, &wiring_.inputs, &told_faults_})
            out.insert(out.end(), n->begin(), n->end());
        out.push_back("powered");
        if (free_load_) out.push_back("magneto");
        for (const auto& s : seen_)
            if (s == "back") out.push_back(s);
        return out;
    }

    Words claim_words() {
        Words w;
        w.truths = all_truths();
        w.numbers = quantity_names_;
        for (const auto& n : logic_numbers_) w.numbers.push_back(n);
        w.compared_only = delayed_;
        w.mode = has_engine_;
        return w;
    }

    // What can break: what every model has, and what the wiring has.
    void faults() {
        Names all = wiring_.faults;
        const auto each = [&all](const Names& parts, const Names& words) {
            for (const auto& p : parts)
                for (const auto& w : words) all.push_back(p + w);
        };
        Names hand, back;
        for (const auto& s : seen_) {
            if (s.size() == 1) hand.push_back(s);
            if (s == "back") back.push_back(s);
        }
        each(hand, {".stuck_on", ".stuck_off", ".bounces"});
        each(back, {".open"});
        each(output_names_, {".stuck_on", ".stuck_off"});
        each(contacts_, {".welded", ".never_pulls"});
        each({"controller"}, {".resets", ".dead"});
        Names sensors;
        for (const Names* n : {&numbers_, &delayed_})
            for (const auto& s : *n)
                if (s[0] == 's') sensors.push_back(s);
        each(sensors, {".stuck", ".frozen", ".open", ".to_ground", ".to_supply"});
        for (const auto& f : all)
            if (f[0] != 's' && chance(8)) add("faults", f, "{\"comes_and_goes\": true}");
        for (const auto& s : sensors) sensor_fault(s);
        for (const auto& r : contacts_)
            if (chance(3)) add("faults", r + ".slow", "{\"takes\": \"40 ms\"}");
        for (auto n = dice_.below(3); n > 0; --n) told_faults_.push_back(any(all));
        fault_list(all);
    }

    void sensor_fault(const std::string& s) {
        const bool delayed = std::find(delayed_.begin(), delayed_.end(), s) != delayed_.end();
        if (!delayed && chance(2)) add("faults", s + ".drift", "{\"by\": \"1 V\"}");
        if (chance(2)) add("faults", s + ".open", "{\"reads\": \"9 V\"}");
    }

    void fault_list(const Names& all) {
        std::string of;
        const auto some = [&of](const std::string& f) { of += (of.empty() ? "" : ", ") + quoted(f); };
        if (chance(3)) some("everything");
        for (auto n = 1 + dice_.below(4); n > 0; --n) some(any(all));
        add("conditions", "frail",
            "{\"base\": " + quoted(chance(3) ? "healthy" : "any") + ", \"faults\": {\"of\": [" + of +
                "], \"at_most\": " + std::to_string(number(1, 2)) + (chance(4) ? ", \"from_the_start\": true" : "") +
                "}}");
    }

    void conditions() {
        const Words w = claim_words();
        add("conditions", "held",
            "{\"base\": \"any\", \"holds\": " + quoted("NOT (" + truth(w, 2) + " AND " + truth(w, 2) + ")") + "}");
        if (quantity_names_.empty()) return;
        add("conditions", "calm",
            "{\"base\": \"healthy\", \"holds\": " +
                quoted("TOF(" + truth(w, 1) + ", 60 ms) OR " + leaf(w) + " OR " + leaf(w)) +
                (chance(2) ? ", \"except\": {" + quoted(any(quantity_names_)) + ": \"3 .. 9 V\"}" : "") + "}");
    }

    std::string under() {
        if (quantity_names_.empty()) return quoted(any({"any", "healthy", "held", "frail"}));
        return quoted(any({"any", "healthy", "held", "calm", "frail"}));
    }

    std::string parity() {
        std::string out;
        for (const auto& t : all_truths()) out += (out.empty() ? "" : " XOR ") + t;
        for (const auto& q : quantity_names_) out += " XOR " + q + " > 5 V";
        for (const auto& q : numbers_)
            if (q[0] == 's') out += " XOR " + q + " > 4 V";
        for (const auto& q : delayed_) out += " XOR " + q + " > 4 V";
        for (const auto& q : logic_numbers_) out += " XOR " + q + " > 3 V";
        if (has_engine_) out += " XOR (engine = running) XOR (engine = cranking)";
        if (has_speed_) out += " XOR engine_speed > 1000 rpm";
        return out;
    }

    void claims() {
        const Words w = claim_words();
        add("claims", "parity", "{\"always\": " + quoted(parity()) + "}");
        add("claims", "implied",
            "{\"always\": " + quoted(truth(w, 2) + " -> " + truth(w, 2)) + ", \"under\": " + under() + "}");
        add("claims", "answered",
            "{\"whenever\": " + quoted(truth(w, 1)) + (chance(2) ? ", \"for\": " + quoted(time()) : "") +
                ", \"then\": " + quoted(truth(w, 2)) +
                ", \"within\": " + quoted(any({"10 ms", "20 ms", "35 ms", "60 ms"})) + ", \"under\": " + under() + "}");
        add("claims", "reached", "{\"possible\": " + quoted(truth(w, 2)) + ", \"under\": " + under() + "}");
        add("claims", "answered once",
            "{\"once\": " + quoted(truth(w, 1)) + (chance(2) ? ", \"for\": " + quoted(time()) : "") +
                ", \"then\": " + quoted(truth(w, 1)) +
                ", \"within\": " + quoted(any({"10 ms", "20 ms", "35 ms", "60 ms"})) + ", \"under\": " + under() + "}");
        add("claims", "answered in total",
            "{\"whenever\": " + quoted(truth(w, 1)) + ", \"for\": " + quoted(any({"0 ms", "20 ms", "35 ms"})) +
                ", \"out_of\": " + quoted(any({"40 ms", "65 ms", "120 ms"})) + ", \"then\": " + quoted(truth(w, 1)) +
                ", \"within\": " + quoted(any({"10 ms", "20 ms", "35 ms"})) + ", \"under\": " + under() + "}");
        add("claims", "limited",
            "{\"changes\": " + quoted(truth(w, 2)) + ", \"at_most\": " + any({"0", "1", "2", "3"}) +
                ", \"in_any\": " + quoted(any({"20 ms", "50 ms", "105 ms"})) + ", \"under\": " + under() + "}");
        add("claims", "reached again",
            "{\"recoverable\": " + quoted(truth(w, 1)) + (chance(2) ? ", \"within\": \"80 ms\"" : "") +
                (chance(2) ? ", \"may_move\": " + quoted(any(positions_)) : "") + ", \"reached_under\": " + under() +
                ", \"under\": " + under() + "}");
        procedures(w);
    }

    void procedures(const Words& w) {
        std::string steps;
        for (auto n = 1 + dice_.below(3); n > 0; --n) {
            std::string s;
            const std::string reacts = chance(2) ? ", reacts in 5 .. 30 ms" : ", reacts in 0 .. 20 ms";
            switch (dice_.below(4)) {
                case 0:
                    s = any({"set ", "clear "}) + any(positions_);
                    break;
                case 1:
                    s = "wait until " + truth(w, 1) + ", at most 60 ms" + reacts;
                    break;
                case 2:
                    s = "hold " + any(positions_) + " until " + truth(w, 1) + ", at most 80 ms" + reacts;
                    break;
                default:
                    s = "hold " + any(positions_) + " for " + time();
                    break;
            }
            steps += quoted(s) + ", ";
        }
        steps += quoted("wait " + time());
        add("claims", "done",
            "{\"procedure\": [" + steps + "], \"ends_with\": " + quoted(truth(w, 1)) +
                (chance(2) ? ", \"within\": \"150 ms\"" : "") + ", \"under\": " + under() + "}");
        add("claims", "done from there",
            "{\"procedure\": [" + steps + "], \"ends_with\": " + quoted(truth(w, 1)) +
                ", \"from\": " + quoted(truth(w, 1)) + (chance(2) ? ", \"within\": \"150 ms\"" : "") +
                ", \"reached_under\": " + under() + ", \"under\": " + under() + "}");
    }

    Dice dice_;
    Parts parts_;
    WiringMaker wiring_;
    bool is_wired_;
    Names told_faults_;  // claims speak of them
    Names seen_, positions_, quantity_names_, numbers_, delayed_, output_names_, loads_, own_loads_, contacts_;
    Names logic_truths_, logic_numbers_;
    bool has_table_ = false, has_map_ = false, has_engine_ = false, has_speed_ = false, free_load_ = false;
};

}  // namespace

Parts random_parts(unsigned seed) { return Maker(seed).make(); }

Seeds seeds(Seeds usual) {
    if (const char* text = std::getenv("LANYARD_SEEDS")) std::istringstream(text) >> usual.first >> usual.count;
    return usual;
}

}  // namespace lanyard::test
