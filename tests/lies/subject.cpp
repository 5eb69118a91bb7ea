#include "subject.hpp"

#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <stdexcept>

#include "certify/obligations.hpp"
#include "model/read.hpp"
#include "prove/driver.hpp"
#include "sim/interpreter.hpp"

namespace lanyard::test {

namespace fs = std::filesystem;

namespace {

std::string content(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::ostringstream out;
    out << in.rdbuf();
    return out.str();
}

std::string word(const Verdict& v) {
    static const char* const words[] = {"proved", "refuted", "vacuous", "undecided"};
    return words[v.index()];
}

// What a verdict owes, judged once more without lies. Empty: it holds.
class Evidence {
 public:
    Evidence(const Subject& s, const ClaimResult& r) : model_(*s.model), result_(r) {
        question_.model = s.model.get();
        question_.claim = s.claim;
        question_.condition = model_.claims[static_cast<std::size_t>(s.claim)].condition;
        question_.leaps = r.leaps;
        possible_ = std::holds_alternative<Possible>(model_.claims[static_cast<std::size_t>(s.claim)].body);
    }

    std::string flaw() {
        if (const auto* p = std::get_if<Proved>(&result_.verdict)) {
            if (!possible_ && !p->certificate) return "a proof without a certificate";
            if (p->certificate) certificate(*p->certificate, Target::bad);
            const Replay r = play(p->example, question_.claim);
            if (!(possible_ ? r.goal_at_end : r.demanded)) complain("the example shows nothing");
        } else if (const auto* f = std::get_if<Refuted>(&result_.verdict)) {
            if (possible_ ? !f->certificate : !f->run) return "a refutation without evidence";
            if (f->certificate) certificate(*f->certificate, Target::bad);
            if (f->run && !play(*f->run, question_.claim).violated_at_end) complain("the run breaks nothing");
        } else if (const auto* v = std::get_if<Vacuous>(&result_.verdict)) {
            if (v->certificate) certificate(*v->certificate, Target::demand);
            if (v->run) play(*v->run, -1);
            if (v->run) dead_end(*v->run);
        }
        return flaw_;
    }

 private:
    void complain(const std::string& text) {
        if (flaw_.empty()) flaw_ = text;
    }
    void certificate(const Certificate& c, Target target) {
        question_.target = target;
        const CheckResult r = check_obligations(obligations(question_, c), 0);
        if (r.check != Check::holds) complain("the certificate fails: " + r.where);
    }
    Replay play(const Run& run, int claim) {
        Replay r = replay(model_, run, question_.condition, claim);
        if (!r.legal) complain("the run is none: " + r.broken);
        return r;
    }
    void dead_end(const Run& run) {
        Question q = question_;
        q.claim = -1;
        if (check_obligations({stuck(q, run)}, 0).check != Check::holds) complain("the run is no dead end");
    }

    const Model& model_;
    const ClaimResult& result_;
    Question question_;
    bool possible_ = false;
    std::string flaw_;
};

void plant(Lie kind, long at, long which) {
    auto& lie = planted_lie();
    lie.kind = kind;
    lie.at = at;
    lie.which = which;
    lie.seen = 0;
    lie.told = false;
}

}  // namespace

std::vector<Subject> subjects_in(const fs::path& folder) {
    std::vector<Subject> out;
    std::vector<fs::path> files;
    for (const auto& entry : fs::directory_iterator(folder))
        if (!entry.path().filename().string().ends_with(".expect.json")) files.push_back(entry.path());
    std::sort(files.begin(), files.end());
    for (const auto& file : files) {
        ReadResult read = read_model(file.filename().string(), content(file));
        if (!read.model) throw std::runtime_error(render(read.diagnostics, read.source));
        const auto model = std::make_shared<const Model>(std::move(*read.model));
        const auto expected =
            nlohmann::json::parse(content(fs::path(file).replace_extension().string() + ".expect.json"));
        for (std::size_t i = 0; i < model->claims.size(); ++i)
            out.push_back({model, static_cast<int>(i), expected.at("claims").at(model->claims[i].id).get<std::string>(),
                           expected.value("work", std::uint64_t{20'000'000})});
    }
    return out;
}

Told judge_with_lie(const Subject& s, Lie kind, long at, long which) {
    DriverOptions options;
    options.claims = {s.claim};
    options.work_limit = s.work;
    Told out;
    plant(kind, at, which);
    try {
        const DriverReport report = check_claims(*s.model, options);
        out.told = planted_lie().told;
        out.calls = planted_lie().seen;
        plant(Lie::none, 0, 0);
        const ClaimResult& r = report.results.at(0);
        out.what = word(r.verdict);
        if (std::holds_alternative<Undecided>(r.verdict)) {
            out.outcome = Outcome::open;
            out.what += ": " + std::get<Undecided>(r.verdict).reason;
        } else if (out.what == s.truth) {
            const std::string flaw = Evidence(s, r).flaw();
            out.outcome = flaw.empty() ? Outcome::harmless : Outcome::wrong;
            if (!flaw.empty()) out.what += ", but " + flaw;
        }
    } catch (const InternalError& e) {
        out.told = planted_lie().told;
        out.calls = planted_lie().seen;
        out.outcome = Outcome::caught;
        out.what = e.what;
    }
    plant(Lie::none, 0, 0);
    return out;
}

}  // namespace lanyard::test
