// Plants one lie after the other in the solver's answers, at places spread over all that could carry it, and sees
// that none of them comes out as a verdict: each must be caught, end undecided, or do no harm.
//
//   test_lies MODELS   a folder of models with their true verdicts
#include <algorithm>
#include <iostream>
#include <map>
#include <set>

#include "subject.hpp"

using namespace lanyard::encode;
using namespace lanyard::test;

namespace {

constexpr long least_told = 300;
// Of one kind in one claim: fewer where the solver is asked often, as each lie costs all of it once more.
constexpr long places_each = 6, places_of_many = 2, many = 60;

const std::map<Lie, std::string> kinds = {
    {Lie::flip_to_sat, "unsat becomes sat"},          {Lie::flip_to_unsat, "sat becomes unsat"},
    {Lie::unknown_to_unsat, "unknown becomes unsat"}, {Lie::change_value, "a value is changed"},
    {Lie::drop_conjunct, "a conjunct is dropped"},    {Lie::weaken_conjunct, "a conjunct is weakened"},
};

// First, last and some between, more densely towards the end, where the checks are.
std::set<long> places(long calls) {
    const long each = calls > many ? places_of_many : places_each;
    std::set<long> out;
    for (long i = 0; i < each / 2; ++i) out.insert(i * calls / (each / 2));
    for (long i = 1, back = 1; i <= each - each / 2; ++i, back *= 2) out.insert(std::max(0L, calls - back));
    return out;
}

struct Count {
    long told = 0, caught = 0, open = 0, harmless = 0, wrong = 0;
    void add(Outcome o) {
        ++told;
        switch (o) {
            case Outcome::caught:
                ++caught;
                break;
            case Outcome::open:
                ++open;
                break;
            case Outcome::harmless:
                ++harmless;
                break;
            case Outcome::wrong:
                ++wrong;
                break;
        }
    }
};

std::ostream& operator<<(std::ostream& out, const Count& c) {
    return out << c.told << " told: " << c.caught << " caught, " << c.open << " undecided, " << c.harmless
               << " harmless, " << c.wrong << " wrong";
}

// Without a lie the verdict must be the true one, or undecided where the limit of work is small.
bool honest(const Subject& s, const Told& t) {
    if (t.outcome == Outcome::harmless || t.outcome == Outcome::open) return true;
    std::cout << "WRONG without a lie: " << s.name() << ": " << t.what << '\n';
    return false;
}

bool tell_all(const Subject& s, std::map<Lie, Count>& counts) {
    const Told counted = judge_with_lie(s, Lie::none, -1, 0);
    bool good = honest(s, counted);
    for (const auto& [kind, text] : kinds) {
        const long calls = counted.calls.at(kind);
        if (calls == 0) continue;
        for (const long at : places(calls)) {
            const Told t = judge_with_lie(s, kind, at, static_cast<std::size_t>(at) * 7 + s.claim.index());
            if (!t.told) continue;
            counts[kind].add(t.outcome);
            if (t.outcome != Outcome::wrong) continue;
            good = false;
            std::cout << "WRONG: " << s.name() << ", " << text << " at " << at << " of " << calls << ": " << t.what
                      << ", in truth " << s.truth << '\n';
        }
    }
    return good;
}

}  // namespace

int main(int argc, char** argv) {
    if (argc != 2) return 2;
    std::map<Lie, Count> counts;
    bool good = true;
    for (const Subject& s : subjects_in(argv[1])) {
        good = tell_all(s, counts) && good;
        std::cout << s.name() << ": done" << std::endl;
    }
    Count all;
    for (const auto& [kind, count] : counts) {
        std::cout << kinds.at(kind) << ": " << count << '\n';
        all.told += count.told;
        all.caught += count.caught;
        all.open += count.open;
        all.harmless += count.harmless;
        all.wrong += count.wrong;
    }
    std::cout << "all lies: " << all << '\n';
    if (all.told < least_told) std::cout << "WRONG: fewer than " << least_told << " lies were told\n";
    return good && all.told >= least_told ? 0 : 1;
}
