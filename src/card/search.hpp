// The way from where the bench stands to a step that shows something: best first, by what helps most, each setting
// played by the interpreter. It finds a way or says nothing; that there is none is a question for the provers. When the
// scans that it may play are spent it finds nothing any more.
#pragma once

#include <map>
#include <optional>
#include <queue>
#include <set>
#include <string>

#include "card/brings.hpp"
#include "card/need.hpp"

namespace lanyard::card {

struct Way {
    std::vector<Settings> steps;  // each differs from the one before in one thing
    std::size_t brings = 0;       // which of them brings it about; the last one shows it
    std::vector<SignalId> shows;  // where
};

class Search {
 public:
    // `scans`: so many may the player have played.
    Search(const Points& points, const Player& player, long scans);

    // Nothing: no way was found.
    std::optional<Way> find(const Goal& goal, const Rest& from, bool has_to_show);
    long cost(const Goal& goal, const Rest& from) const { return need_of(points_, distance_, goal, from).cost; }
    // Where the step would look otherwise if the goal's point were turned over.
    std::vector<SignalId> shown_at(const Goal& goal, const Rest& before, const Rest& after) const;
    // The same for a later step, counted in `rests` from the first: what was turned over stays so where a box stands on
    // a threshold, and was so at the one step only where something remembers it.
    std::vector<SignalId> shown_later(const Goal& goal, const std::vector<Rest>& rests, std::size_t step,
                                      std::size_t shown) const;

    bool is_spent() const { return player_.scans_played() > scans_; }
    // Combinations of each decision at which something was found at rest.
    const Indexed<Decision, std::set<Combination>>& seen() const { return seen_; }
    // Settings of one thing that make sense anywhere.
    std::vector<Want> all_wants(const Rest& here) const;
    Settings applied(const Settings& set, const Want& want) const;
    void note(const Rest& rest);

 private:
    struct Node {
        Rest rest;
        Id<Node> parent;
        long depth = 0;
        long cost = 0;
    };
    using Entry = std::pair<long, Id<Node>>;  // how good, which: earlier ones first
    // Brought about behind a node, and shows nowhere.
    struct Dark {
        long cost = 0;
        Id<Node> parent;
        Rest after;
    };
    struct Tree {
        Indexed<Node> nodes;
        std::priority_queue<Entry, std::vector<Entry>, std::greater<>> open;
        std::set<std::string> known;
        std::vector<Dark> dark;
    };
    std::optional<Way> expand(const Goal& goal, Tree& tree, Id<Node> parent, bool everything, bool has_to_show);
    static std::vector<Settings> way_to(const Tree& tree, Id<Node> node);
    std::optional<Way> reveal(const Goal& goal, const Rest& before, const Rest& after);
    std::vector<Want> revealing(const Goal& goal, const Rest& real, const Rest& other) const;
    std::vector<SignalId> differing(const Rest& a, const Rest& b) const;
    std::vector<SignalId> changed_late(const Goal& goal, const Rest& before, const Rest& after) const;
    std::vector<SignalId> differing_meanwhile(const Goal& goal, const Rest& before, const Rest& after) const;
    Rest twin(const Goal& goal, const Rest& before, const Rest& after) const;
    Settings turned_over(const Settings& set, const Goal& goal, bool over) const;

    bool is_over() const { return is_spent() || player_.is_stopped(); }

    const Points& points_;
    const Player& player_;
    long scans_;
    Indexed<BenchInput, std::vector<Rational>> values_;
    Distance distance_;
    Indexed<Decision, std::set<Combination>> seen_;
};

}  // namespace lanyard::card
