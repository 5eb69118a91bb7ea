// Paths: what their items are, and the wires between them.
#include "model/wiring.hpp"

#include "model/names.hpp"

namespace lanyard::model {

namespace {

constexpr const char* chassis = "ground";

// The items between hyphens.
std::vector<LocatedText> items_of(const LocatedText& path) {
    std::vector<LocatedText> items;
    std::size_t from = 0;
    for (std::size_t i = 0; i <= path.text.size(); ++i) {
        if (i < path.text.size() && path.text[i] != '-') continue;
        items.push_back(trimmed(part_of(path, from, i - from)));
        from = i + 1;
    }
    return items;
}

std::string head_of(const std::string& name) { return name.substr(0, name.find('.')); }

}  // namespace

PartId Wiring::add_part(WiredPart p) {
    const auto index = parts_.next();
    part_of_[p.name] = index;
    if (!p.bare.empty()) end_of_[p.bare] = index;
    parts_.push_back(std::move(p));
    return index;
}

void Wiring::add_end(PartId part, const std::string& name) {
    if (!end_of_.emplace(name, part).second) return;
    parts_[part].ends.push_back(name);
}

void Wiring::add_two_ended(TwoEnded t) {
    if (t.name != parts_[t.part].name) parts_[t.part].ends.push_back(t.name);
    add_end(t.part, t.in);
    add_end(t.part, t.out);
    ++sharers_[t.in];
    ++sharers_[t.out];
    two_ended_of_[t.name] = two_ended_.size();
    two_ended_.push_back(std::move(t));
}

void Wiring::add_source(PartId part, SourcePart s) {
    add_end(part, s.name + ".minus");
    if (s.has_field) add_end(part, s.name + ".field");
    sources_.push_back(std::move(s));
}

void Wiring::add_ground_point(PartId part) { ground_points_.push_back(part); }

void Wiring::add_magneto(PartId part, LoadId load) { magnetos_.emplace_back(part, load); }

NodeId Wiring::node(const std::string& name, Place place, const std::string& pointer) {
    const auto known = nodes_.find(name);
    if (known != nodes_.end()) return known->second;
    auto& nodes = b_.model.circuit.nodes;
    const auto index = nodes.next();
    nodes.push_back({name, {}, place, pointer});
    nodes_[name] = index;
    return index;
}

NodeId Wiring::existing(const std::string& name, NodeId otherwise) const {
    const auto known = nodes_.find(name);
    return known == nodes_.end() ? otherwise : known->second;
}

std::string Wiring::ends_text(const WiredPart& p) const {
    std::string list;
    for (const auto& e : p.ends) list += (list.empty() ? "" : ", ") + e;
    if (list.size() > 120) list = list.substr(0, list.rfind(',', 120)) + " ...";
    return list;
}

// Behind a point stands something that the part has not, or its bare name is not enough.
NodeId Wiring::no_such_end(const LocatedText& text, const std::string& head) {
    const auto part = part_of_.find(head);
    if (part == part_of_.end()) {
        std::vector<std::string> known;
        for (const auto& p : parts_) known.push_back(p.name);
        std::string hint = b_.reading.suggestion(head, known);
        if (hint.empty()) hint = R"(declare it: "parts": { ")" + head + R"(": { "is": "relay" } })";
        b_.reading.error("unknown-part", text.pointer, text.place,
                         "there is no part " + quoted(head) + " in the circuit", "the name before a point is a part",
                         hint);
        return {};
    }
    WiredPart& p = parts_[part->second];
    p.wired = true;
    const bool bare = head == text.text;
    std::string hint = bare ? "" : b_.reading.suggestion(text.text, p.ends);
    if (hint.empty()) hint = "it has " + (p.ends.empty() ? "its name only" : ends_text(p));
    b_.reading.error("which-end", text.pointer, text.place,
                     bare ? quoted(text.text) + " is " + p.words + ": a path must say which of its ends is meant"
                          : quoted(head) + " is " + p.words + ", which has no " + quoted(text.text),
                     "", hint);
    return {};
}

NodeId Wiring::other_thing(const LocatedText& text, const Named& n) {
    b_.reading.error(
        "not-wired", text.pointer, text.place,
        quoted(text.text) + " is " + thing_words(n.thing) + in_line(n.place) + ", which cannot be wired",
        "a path goes through parts of the circuit, pins of the controller and splices",
        n.thing == Thing::hand_switch
            ? "a switch with wires is a part: { \"is\": \"switch\", \"switch\": \"maintained\" }, and what "
              "the controller sees of it is a wired input"
        : n.thing == Thing::output ? R"(give it a pin: "drives": "high side")"
                                   : "give the splice another name");
    return {};
}

NodeId Wiring::splice(const LocatedText& text, bool inside) {
    const auto known = nodes_.find(text.text);
    if (known != nodes_.end()) {
        ++splices_.at(text.text).stops;
        return known->second;
    }
    const auto named = b_.names.find(text.text);
    if (named != b_.names.end()) return other_thing(text, named->second);
    if (!check_name(b_.reading, text.text, text.place, text.pointer)) return {};
    const NodeId index = node(text.text, text.place, text.pointer);
    splices_.emplace(text.text, Splice{text, 1, inside});
    declare(b_, {text.text, text.place, text.pointer, nullptr, true}, {Thing::node, index});
    return index;
}

// In the middle of a path; each stands there once.
bool Wiring::inside(TwoEnded& t, const LocatedText& text) {
    if (t.inside_at.line == 0) {
        t.inside_at = text.place;
        return true;
    }
    b_.reading.error("part-twice", text.pointer, text.place,
                     lanyard::model::quoted(t.name) + " is already in the middle of a path" + in_line(t.inside_at),
                     "it has two ends, and both are connected there",
                     "connect another wire to one of its ends: " + t.in + " or " + t.out);
    return false;
}

Wiring::Stop Wiring::stop(const LocatedText& text, bool first, bool last) {
    Stop s{text, {}, {}};
    const std::string& name = text.text;
    const std::string head = head_of(name);
    if (broken_.count(head) > 0) return s;
    if (name == chassis) {
        s.left = s.right = ground_node;
        return s;
    }
    const auto two = two_ended_of_.find(name);
    const auto part = part_of_.find(head);
    if (part != part_of_.end()) parts_[part->second].wired = true;
    if (two != two_ended_of_.end()) {
        TwoEnded& t = two_ended_[two->second];
        if (!first && !last && !inside(t, text)) return s;
        if (!first) s.left = node(t.in, text.place, text.pointer);
        if (!last) s.right = node(t.out, text.place, text.pointer);
        return s;
    }
    std::string end = name;
    if (part != part_of_.end() && head == name && !parts_[part->second].bare.empty()) end = parts_[part->second].bare;
    if (end_of_.count(end) > 0)
        s.left = node(end, text.place, text.pointer);
    else if (part != part_of_.end() || head != name)
        s.left = no_such_end(text, head);
    else
        s.left = splice(text, !first && !last);
    s.right = s.left;
    return s;
}

void Wiring::lay(const Entry& e, const std::vector<Stop>& stops, const std::optional<Rational>& gauge) {
    WireLine line{e.name, {}, e.place, e.pointer};
    auto& branches = b_.model.circuit.branches;
    for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
        Branch piece;
        piece.from = stops[i].right;
        piece.to = stops[i + 1].left;
        piece.gauge = gauge;
        piece.place = stops[i + 1].text.place;
        piece.pointer = e.pointer;
        piece.name = stops.size() == 2 ? e.name : e.name + "." + std::to_string(i + 1);
        if (!piece.from || !piece.to) continue;
        if (piece.from == piece.to) {
            b_.reading.error("wire-to-itself", stops[i + 1].text.pointer, stops[i + 1].text.place,
                             "a wire from " + quoted(stops[i].text.text) + " to itself", "it connects nothing");
            continue;
        }
        for (const NodeId end : {piece.from, piece.to}) ++touched_[b_.model.circuit.nodes[end].name];
        line.pieces.push_back(branches.next());
        branches.push_back(std::move(piece));
    }
    b_.wires.push_back(std::move(line));
}

void Wiring::read_wire(const Entry& e) {
    if (b_.model.circuit.nodes.empty()) node(chassis, {}, "/circuit");
    declare(b_, e, {Thing::part});
    if (e.value == nullptr) return;
    std::optional<LocatedText> path;
    std::optional<Rational> gauge;
    if (e.value->kind == json::Kind::string) {
        path = b_.reading.located(*e.value, e.pointer);
    } else {
        const ObjectReader object(b_.reading, object_help("wire"), *e.value, e.pointer);
        path = object.text("path");
        if (const auto size = object.text("size")) gauge = wire_size(b_, *size);
    }
    if (!path) return;
    const auto items = items_of(*path);
    std::vector<Stop> stops;
    for (std::size_t i = 0; i < items.size(); ++i) {
        if (!items[i].text.empty() && items.size() > 1) {
            stops.push_back(stop(items[i], i == 0, i + 1 == items.size()));
            continue;
        }
        b_.reading.error("wire-syntax", path->pointer, items[i].text.empty() ? path->place : items[i].place,
                         items.size() == 1 ? "the wire " + quoted(e.name) + " has only one end"
                                           : "in the path of " + quoted(e.name) + " a name is missing at a hyphen",
                         "a path names what it connects, in order, separated by hyphens",
                         R"(as in "battery - F1 - master - bus")");
        return;
    }
    lay(e, stops, gauge);
}

}  // namespace lanyard::model
