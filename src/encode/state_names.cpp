#include "encode/state_names.hpp"

#include "base/characters.hpp"
#include "circuit/words.hpp"

namespace lanyard::encode {

namespace {

const char* word_of_key(StateRole role) {
    switch (role) {
        case StateRole::remembered:
        case StateRole::value:
            return "";
        case StateRole::on:
            return "on";
        case StateRole::count:
            return "count";
        case StateRole::past:
            return "past";
        case StateRole::filled:
            return "filled";
        case StateRole::end:
            return "end";
        case StateRole::before:
            return "before";
        case StateRole::ever:
            return "ever";
        case StateRole::last:
            return "last";
        case StateRole::held:
            return "held";
        case StateRole::away:
            return "away";
        case StateRole::missed:
            return "missed";
        case StateRole::closed:
            return "closed";
        case StateRole::transit:
            return "transit";
        case StateRole::moves:
            return "moves";
        case StateRole::fed:
            return "fed";
        case StateRole::was:
            return "was";
        case StateRole::powered_before:
            return "powered.before";
        case StateRole::product:
            return "product";
        case StateRole::up:
            return "up";
        case StateRole::booting:
            return "booting";
        case StateRole::booted:
            return "booted";
        case StateRole::high:
            return "high";
        case StateRole::low:
            return "low";
        case StateRole::next_high:
            return "next.high";
        case StateRole::next_low:
            return "next.low";
        case StateRole::firing:
            return "firing";
        case StateRole::lost:
            return "lost";
        case StateRole::coast:
            return "coast";
        case StateRole::since_firing:
            return "since_firing";
        case StateRole::since_running:
            return "since_running";
        case StateRole::begun:
            return "begun";
        case StateRole::moves_on:
            return "moves_on";
        case StateRole::owed:
            return "owed";
        case StateRole::age:
            return "age";
        case StateRole::watched:
            return "watched";
        case StateRole::window:
            return "window";
        case StateRole::total:
            return "total";
        case StateRole::changes:
            return "changes";
        case StateRole::step:
            return "step";
        case StateRole::in_step:
            return "in_step";
        case StateRole::reacts:
            return "reacts";
        case StateRole::heard:
            return "heard";
        case StateRole::seen:
            return "seen";
        case StateRole::time:
            return "time";
    }
    return "";
}

const char* word_of_key(Whole whole) {
    switch (whole) {
        case Whole::run:
            return "";
        case Whole::supply:
            return "supply";
        case Whole::engine:
            return "engine";
        case Whole::claim:
            return "claim";
    }
    return "";
}

std::string with_point(const std::string& a, const std::string& b) {
    return a + (a.empty() || b.empty() ? "" : ".") + b;
}

// What is kept of past scans, and for how many there is something: one memory.
bool is_of_rate(StateRole role) { return role == StateRole::past || role == StateRole::filled; }

}  // namespace

std::string StateNames::memory(const StateKey& key, ElementId id, const std::string& owner) {
    if (is_of_rate(key.role) && rates_.contains(id)) return rates_.at(id);
    std::string name = owner + "." + lower(op_word(m_.elements[id].op));
    name += std::to_string(++counts_[name]);
    if (is_of_rate(key.role)) rates_.emplace(id, name);
    return name;
}

std::string StateNames::of(const StateKey& key, const std::string& owner) {
    std::string of;
    if (const auto* whole = std::get_if<Whole>(&key.owner)) of = word_of_key(*whole);
    if (const auto* element = std::get_if<ElementId>(&key.owner)) of = memory(key, *element, owner);
    if (const auto* signal = std::get_if<SignalId>(&key.owner)) of = m_.name_of(*signal);
    if (const auto* fault = std::get_if<FaultId>(&key.owner)) of = m_.faults[*fault].name;
    if (const auto* probe = std::get_if<ProbeId>(&key.owner)) of = probe_name(m_, *probe);
    if (key.role == StateRole::was) of = with_point(word_of_key(Whole::claim), of);
    if (key.role == StateRole::reacts) of = with_point(of, "step" + std::to_string(key.number));
    std::string name = with_point(of, word_of_key(key.role));
    if (key.role == StateRole::past || key.role == StateRole::away) name += std::to_string(key.number);
    if (key.role == StateRole::product) name = with_point(name, owner);
    return name;
}

std::string claim_bit(StateRole role) { return "s." + with_point(word_of_key(Whole::claim), word_of_key(role)); }

}  // namespace lanyard::encode
