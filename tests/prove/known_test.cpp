// Answers that were found before are believed no more than those of a search.
#include "prove/known.hpp"

#include <catch2/catch.hpp>
#include <functional>
#include <map>
#include <mutex>

#include "../models.hpp"
#include "prove/driver.hpp"
#include "sim/interpreter.hpp"

using namespace lanyard::prove;
using namespace lanyard::test;

namespace {

// What a check was told, and what it tells the next one: that, or a lie.
class Memory : public KnownAnswers {
 public:
    using Lie = std::function<void(KnownAnswer&)>;
    Memory() = default;
    Memory(const Memory& honest, Lie lie) : lie_(std::move(lie)), answers_(honest.answers_) {}

    // Of another state of the model.
    static Memory of_old(const Memory& old) {
        Memory out;
        out.old_ = old.likes_;
        return out;
    }
    Memory(Memory&& other) noexcept : answers_(std::move(other.answers_)), old_(std::move(other.old_)) {}

    std::optional<KnownAnswer> look_up(const QuestionKey& key, const Model&) override {
        const std::scoped_lock lock(mutex_);
        const auto at = answers_.find(key.exact);
        const auto like = old_.find(key.like);
        if (at == answers_.end() && like == old_.end()) return std::nullopt;
        ++found;
        KnownAnswer told = at == answers_.end() ? like->second : at->second;
        told.of_another_model = at == answers_.end();
        if (lie_) lie_(told);
        return told;
    }
    void keep(const QuestionKey& key, const KnownAnswer& answer, const Model&) override {
        const std::scoped_lock lock(mutex_);
        ++kept;
        answers_.insert_or_assign(key.exact, answer);
        likes_.insert_or_assign(key.like, answer);
    }
    void drop(const QuestionKey& key) override {
        const std::scoped_lock lock(mutex_);
        ++dropped;
        answers_.erase(key.exact);
        old_.erase(key.like);
    }

    int found = 0, kept = 0, dropped = 0;

 private:
    Lie lie_;
    std::mutex mutex_;
    std::map<std::string, KnownAnswer> answers_, likes_, old_;
};

Model model(const std::string& trip = "15 psi") {
    return model_from(R"json({"lanyard": 1, "name": "m",
      "inputs": {"key": "maintained", "hand": "maintained", "reset": "momentary", "oil": {"senses": "oil_pressure"}},
      "logic": {"tripped": "RS(oil < )json" +
                      trip + R"json(, reset)"},
      "outputs": {"pump": "key OR hand", "run": "key AND oil > 15 psi AND NOT tripped"},
      "claims": {
        "follows": {"always": "key -> pump"},
        "alone": {"always": "NOT key -> NOT pump"},
        "never both": {"always": "key AND NOT key -> pump"},
        "cut": {"whenever": "oil_pressure < 14 psi", "then": "NOT run", "within": "60 ms"},
        "comes back": {"recoverable": "run", "may_move": ["key", "reset"], "under": "healthy"}}})json");
}

// The first `count` claims.
std::vector<ClaimResult> judged(const Model& m, KnownAnswers* known, std::size_t count) {
    DriverOptions o;
    for (std::size_t k = 0; k < count; ++k) o.claims.push_back(ClaimId(k));
    o.known = known;
    o.jobs = 2;
    return check_claims(m, o).results;
}

void same_verdicts(const std::vector<ClaimResult>& a, const std::vector<ClaimResult>& b) {
    REQUIRE(a.size() == b.size());
    for (std::size_t k = 0; k < a.size(); ++k) {
        CAPTURE(k);
        CHECK(a[k].verdict.index() == b[k].verdict.index());
        CHECK(a[k].prover == b[k].prover);
        const Certificate* first = certificate_of(a[k].verdict);
        const Certificate* second = certificate_of(b[k].verdict);
        REQUIRE((first == nullptr) == (second == nullptr));
        if (first != nullptr) CHECK(first->lemmas == second->lemmas);
        if (first != nullptr) CHECK(first->elements == second->elements);
        if (first != nullptr) CHECK(first->assumptions == second->assumptions);
        const Run* run = run_against(a[k].verdict);
        if (run != nullptr) CHECK(run->scans() == run_against(b[k].verdict)->scans());
    }
}

}  // namespace

TEST_CASE("what was found once is not searched for again") {
    const Model m = model();
    const auto plain = judged(m, nullptr, m.claims.size());
    CHECK(std::holds_alternative<Proved>(plain[0].verdict));
    CHECK(std::holds_alternative<Refuted>(plain[1].verdict));
    CHECK(std::holds_alternative<Vacuous>(plain[2].verdict));
    CHECK(std::holds_alternative<Proved>(plain[3].verdict));
    Memory memory;
    same_verdicts(plain, judged(m, &memory, m.claims.size()));
    const int told = memory.kept;
    CHECK(told >= 9);  // two questions for each but the refuted one
    memory.found = memory.kept = 0;
    same_verdicts(plain, judged(m, &memory, m.claims.size()));
    CHECK(memory.kept == 0);
    CHECK(memory.dropped == 0);
    CHECK(memory.found >= told);
}

TEST_CASE("lies are found out") {
    const Model m = model();
    Memory honest;
    const auto plain = judged(m, &honest, 2);
    const auto lemma = [](const std::string& text) {
        return [text](KnownAnswer& known) {
            Certificate c;
            c.lemmas = {text};
            known = {InvariantFound{c}, "directed"};
        };
    };
    const auto changed = [](const std::function<void(Certificate&)>& change) {
        return [change](KnownAnswer& known) {
            if (auto* proof = std::get_if<InvariantFound>(&known.finding)) change(proof->certificate);
        };
    };
    const std::string deep(200'000, '(');
    for (const Memory::Lie& lie :
         {Memory::Lie(lemma("false")), Memory::Lie(lemma("(= nothing 1)")), Memory::Lie(lemma("(")),
          Memory::Lie(lemma(deep)), Memory::Lie(lemma("true) (reset-assertions) (assert true")),
          Memory::Lie([](KnownAnswer& known) {
              known = {Reached{1}, "bounded"};
          }),
          Memory::Lie([](KnownAnswer& known) {
              known = {Reached{100'000}, "bounded"};
          }),
          Memory::Lie([](KnownAnswer& known) {
              known = {Reached{0}, "bounded"};
          }),
          Memory::Lie([](KnownAnswer& known) { known.prover = "steam"; }),
          Memory::Lie(changed([](Certificate& c) { c.induction = 2; })),
          Memory::Lie(changed([](Certificate& c) { c.induction = 1000; })),
          Memory::Lie(changed([](Certificate& c) { c.with_binding_quantities = true; })),
          Memory::Lie(changed([](Certificate& c) { c.elements = {"nothing"}; })),
          Memory::Lie(changed([](Certificate& c) {
              c.tangents = {{"p", 1, 1}};
          }))}) {
        Memory memory(honest, lie);
        same_verdicts(plain, judged(m, &memory, 2));
        CHECK(memory.found > 0);
    }
}

TEST_CASE("answers survive an edit, and only where they are right") {
    const Model before = model();
    Memory first;
    judged(before, &first, before.claims.size());
    // The output has a limit of its own, so that it cuts in time wherever the trip is.
    for (const char* trip : {"14.5 psi", "13 psi", "16 psi"}) {
        CAPTURE(trip);
        const Model after = model(trip);
        const auto cold = judged(after, nullptr, after.claims.size());
        CHECK(std::holds_alternative<Proved>(cold[3].verdict));
        Memory memory = Memory::of_old(first);
        const auto warm = judged(after, &memory, after.claims.size());
        for (std::size_t k = 0; k < cold.size(); ++k) {
            CAPTURE(k);
            CHECK(cold[k].verdict.index() == warm[k].verdict.index());
        }
        CHECK(memory.found > 0);
        CHECK(memory.dropped < memory.found);  // some of them still hold
    }
}

TEST_CASE("a run that is no run is not shown") {
    const Model m = model();
    Memory honest;
    const auto plain = judged(m, &honest, 2);
    for (const auto& lie :
         {std::function<void(Run&)>([](Run& r) { r.segments.front().first.positions[SwitchId(0)].flip(); }),
          std::function<void(Run&)>([](Run& r) { r.segments.pop_back(); }),
          std::function<void(Run&)>([](Run& r) { r.segments.push_back(r.segments.back()); }),
          std::function<void(Run&)>([](Run& r) { r.segments.front().first.next_mode = Mode::running; }),
          std::function<void(Run&)>([](Run& r) { r.segments.front().first.quantities[QuantityId(0)] = -1; })}) {
        Memory memory(honest, [&](KnownAnswer& known) {
            if (known.run) lie(*known.run);
        });
        const auto told = judged(m, &memory, 2);
        for (std::size_t k = 0; k < 2; ++k) {
            CHECK(plain[k].verdict.index() == told[k].verdict.index());
            if (const Run* run = run_against(told[k].verdict)) {
                const Replay played = replay(m, *run, m.claims[ClaimId(k)].condition, ClaimId(k));
                CHECK(played.legal);
                CHECK(played.violated_at_end);
            }
        }
    }
}

TEST_CASE("a question's key tells questions apart") {
    const Model m = model();
    Question q;
    q.model = &m;
    q.claim = ClaimId(0);
    const QuestionKey first = key_of(q, {});
    const auto differs = [&](const std::function<void(Question&, JudgeOptions&)>& change) {
        Question other = q;
        JudgeOptions options;
        change(other, options);
        return key_of(other, options).exact != first.exact;
    };
    CHECK_FALSE(differs([](Question&, JudgeOptions&) {}));
    CHECK(differs([](Question& x, JudgeOptions&) { x.claim = ClaimId(1); }));
    CHECK(differs([](Question& x, JudgeOptions&) { x.condition = healthy_condition; }));
    CHECK(differs([](Question& x, JudgeOptions&) { x.target = Target::demand; }));
    CHECK(differs([](Question& x, JudgeOptions&) { x.leaps = false; }));
    CHECK(differs([](Question& x, JudgeOptions&) { x.with_binding_quantities = true; }));
    CHECK(differs([](Question& x, JudgeOptions&) { x.extra = "true"; }));
    CHECK(differs([](Question& x, JudgeOptions&) { x.any_mode = true; }));
    CHECK(differs([](Question& x, JudgeOptions&) { x.start = {"1"}; }));
    CHECK(differs([](Question& x, JudgeOptions&) { x.before.segments.resize(1); }));
    CHECK(differs([](Question& x, JudgeOptions&) { x.tangents = {{"p", 1, 2}}; }));
    CHECK(differs([](Question&, JudgeOptions& o) { o.prover = "bounded"; }));
    CHECK(differs([](Question&, JudgeOptions& o) { o.work_limit = 1; }));
    CHECK(differs([](Question&, JudgeOptions& o) { o.any_run = true; }));
    Model other = m;
    other.made_into = "another";
    CHECK(differs([&](Question& x, JudgeOptions&) { x.model = &other; }));
    Model edited = m;
    edited.sha256 = "another";
    CHECK(differs([&](Question& x, JudgeOptions&) { x.model = &edited; }));
    q.model = &edited;
    CHECK(key_of(q, {}).like == first.like);
    q.claim = ClaimId(1);
    CHECK(key_of(q, {}).like != first.like);
}
