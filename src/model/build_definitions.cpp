// Compiles logic and outputs in an order in which types are known before they are asked for.
#include "model/build.hpp"
#include "model/compile_report.hpp"
#include "model/mentions.hpp"
#include "model/order.hpp"
#include "model/scopes.hpp"

namespace lanyard::model {

namespace {

constexpr std::size_t longest_cycle_text = 60;

std::vector<Reads> reads_of(const Build& b) {
    std::vector<Reads> graph(b.definitions.size());
    for (std::size_t i = 0; i < graph.size(); ++i) {
        if (!b.definitions[i].text) continue;
        for (const auto& m : mentions(b.definitions[i].text->text)) {
            const auto named = b.names.find(m.word);
            if (named == b.names.end()) continue;
            if (named->second.thing != Thing::logic && named->second.thing != Thing::output) continue;
            (m.earlier ? graph[i].earlier : graph[i].now).push_back(b.definition_of.at(named->second.signal));
        }
    }
    return graph;
}

std::string cycle_text(const Build& b, const std::vector<std::size_t>& cycle) {
    std::string text;
    for (std::size_t i = 0; i < cycle.size(); ++i) {
        if (i == longest_cycle_text) {
            text += " -> ... (" + std::to_string(cycle.size() - i) + " more)";
            break;
        }
        text += (i == 0 ? "" : " -> ") + b.definitions[cycle[i]].name;
    }
    return text + " -> " + b.definitions[cycle.front()].name;
}

Named* named_for(Build& b, const Definition& d) {
    const auto n = b.names.find(d.name);
    return n == b.names.end() || n->second.signal != d.signal ? nullptr : &n->second;
}

void report_cycles(Build& b, const Order& order) {
    for (const auto& cycle : order.cycles) {
        const Definition& first = b.definitions[cycle.front()];
        const Definition& read = b.definitions[cycle.size() > 1 ? cycle[1] : cycle[0]];
        b.reading.error(
            "cycle", first.pointer, first.place, quoted(first.name) + " depends on itself: " + cycle_text(b, cycle),
            "within one scan, each of them would have to be known before the others",
            "say which one is taken from the previous scan: previous(" + read.name + "), or read an output back");
    }
    for (std::size_t i = 0; i < order.in_cycle.size(); ++i)
        if (Named* n = named_for(b, b.definitions[i]); n != nullptr && order.in_cycle[i] && !b.definitions[i].wanted)
            n->broken = true;
}

class DefinitionCompiler {
 public:
    DefinitionCompiler(Build& b, std::size_t index) : b_(b), d_(b.definitions[index]), scope_(b) {}

    void run() {
        Named* named = named_for(b_, d_);
        const bool broken_before = named != nullptr && named->broken;
        ExprPtr e = d_.text ? compile_text() : nullptr;
        if (e != nullptr && !accept(*e)) e = nullptr;
        d_.made = broken_before ? nullptr : e;
        if (named != nullptr) {
            named->typed = true;
            named->broken = broken_before || (d_.made == nullptr && !d_.wanted);
            named->guess_of = d_.unit || named->broken ? "" : guess_;
        }
    }

 private:
    // A name whose type had to be guessed may have made the compiler say things that only follow from the guess.
    ExprPtr compile_text() {
        const std::string guessed = guessed_mention();
        const Element owner{Op::ton, false, d_.retained};
        if (guessed.empty()) return compile_for(b_, *d_.text, scope_, d_.wanted, owner);
        DivertedReport diverted(b_);
        const ExprPtr e = compile_for(b_, *d_.text, scope_, d_.wanted, owner);
        if (diverted.drop_type_messages()) {
            b_.reading.error("unit-needed", d_.text->pointer, d_.text->place,
                             "here " + quoted(guessed) + " is assumed to be on or off, and that does not fit",
                             "it depends on its own earlier value, so its kind cannot be determined",
                             "if it is a number, say so: \"" + guessed + R"(": { "is": "...", "unit": "%" })");
            return nullptr;
        }
        return e;
    }

    bool is_guess(const Named& n) const { return !n.typed && !b_.definitions[b_.definition_of.at(n.signal)].unit; }

    // A word whose type was guessed, or follows from such a guess that is not confirmed yet.
    std::string guessed_mention() {
        for (const auto& m : mentions(d_.text->text)) {
            const auto n = b_.names.find(m.word);
            if (n == b_.names.end()) continue;
            if (is_guess(n->second)) {
                guess_ = m.word;
                return m.word;
            }
            const auto from = b_.names.find(n->second.guess_of);
            if (from == b_.names.end() || !is_guess(from->second)) continue;
            guess_ = n->second.guess_of;
            return m.word;
        }
        return "";
    }

    bool accept(const Expr& e) {
        Signal& s = b_.model.signals[d_.signal];
        if (e.type.kind == TypeKind::mode) {
            b_.reading.error("wrong-type", d_.text->pointer, d_.text->place,
                             "an engine mode cannot be the value of a logic line");
            return false;
        }
        if (d_.unit && (e.type.kind != TypeKind::number || e.type.dimension != d_.unit->dimension)) {
            b_.reading.error("wrong-unit", d_.text->pointer, d_.text->place,
                             quoted(d_.name) + " is not a number that can be shown in " + d_.unit->symbol);
            return false;
        }
        if (d_.was_guessed && e.type != s.type) {
            b_.reading.error("unit-needed", d_.text->pointer, d_.text->place,
                             quoted(d_.name) + " is of another kind than was assumed",
                             "it depends on its own earlier value, so its kind cannot be determined",
                             R"(say so: { "is": "...", "unit": "degC" })");
            return false;
        }
        s.type = e.type;
        if (e.type.kind == TypeKind::number) s.unit = d_.unit ? *d_.unit : unit_for(b_.model, e);
        return true;
    }

    Build& b_;
    Definition& d_;
    LogicScope scope_;
    std::string guess_;
};

}  // namespace

void build_definitions(Build& b) {
    const Order order = order_of(reads_of(b));
    report_cycles(b, order);
    for (const std::size_t i : order.sequence) {
        DefinitionCompiler(b, i).run();
        b.model.order.push_back(b.definitions[i].signal);
    }
    for (const auto& d : b.definitions) {
        const Signal& s = b.model.signal(d.signal);
        const AnyId index = s.index;
        if (s.kind == SignalKind::logic)
            b.model.logic[index].is = d.made;
        else
            b.model.outputs[index].on = d.made;
    }
}

}  // namespace lanyard::model
