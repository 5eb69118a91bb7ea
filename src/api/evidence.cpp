#include "api/evidence.hpp"

#include <algorithm>

#include "api/judged.hpp"
#include "base/file.hpp"
#include "certify/obligations.hpp"
#include "report/run_files.hpp"
#include "report/story.hpp"

namespace lanyard::api {

namespace {

// Runs whichever solvers are installed over all obligations below it and compares with what each file says.
constexpr const char* recheck = R"sh(#!/bin/sh
# Asks every solver that is installed (z3, cvc5) about every obligation below this folder.
# Each file says the answer that it must have in (set-info :status ...).
cd "$(dirname "$0")" || exit 2
good=0 bad=0 found=
for solver in z3 cvc5; do
    command -v "$solver" > /dev/null 2>&1 || continue
    found="$found $solver"
    for file in */*.smt2; do
        [ -e "$file" ] || continue
        wanted=$(sed -n 's/^(set-info :status \(.*\))$/\1/p' "$file")
        answer=$("$solver" "$file" 2> /dev/null | head -n 1)
        if [ "$answer" = "$wanted" ]; then
            good=$((good + 1))
        else
            bad=$((bad + 1))
            echo "$solver: $file: $answer, not $wanted"
        fi
    done
done
[ -n "$found" ] || { echo "no solver found: install z3 or cvc5"; exit 2; }
echo "$good as expected, $bad not, with:$found"
[ "$bad" -eq 0 ]
)sh";

Question question(const lanyard::model::Model& m, const ClaimResult& r, Target target) {
    Question q = lanyard::claims::question_about(m, r.claim);
    q.target = target;
    q.leaps = r.leaps;
    const auto* proved = std::get_if<lanyard::claims::Proved>(&r.verdict);
    if (proved && proved->playbook) {
        q.model = proved->playbook.get();
        q.claim = q.model->claims.last();
    }
    // A trap is a certificate about what follows its run.
    const auto* refuted = std::get_if<lanyard::claims::Refuted>(&r.verdict);
    if (refuted && refuted->run && refuted->certificate) return behind(q, *refuted->run).value_or(q);
    return q;
}

// Makes the files of one claim.
class Writer {
 public:
    explicit Writer(const FilmedResult& r) : model_(r.model), result_(r) {}

    Evidence evidence() {
        if (const auto* p = std::get_if<lanyard::claims::Proved>(&result_.verdict)) {
            if (p->certificate) certificate(*p->certificate, Target::bad);
            if (p->certificate) smt2(alive(question(model_, result_, Target::demand), p->example));
            run(p->example, "example");
            for (const auto& o : p->time) smt2(o);
        } else if (const auto* f = std::get_if<lanyard::claims::Refuted>(&result_.verdict)) {
            if (f->run) run(*f->run, "run");
            if (f->certificate) certificate(*f->certificate, Target::bad);
        } else if (const auto* v = std::get_if<lanyard::claims::Vacuous>(&result_.verdict)) {
            if (v->certificate) certificate(*v->certificate, v->tautology ? Target::bad : Target::demand);
            if (v->run && !v->run->segments.empty()) run(*v->run, "run");
            for (const auto& o : v->time) smt2(o);
        }
        // The files tell of the run that lies beside them, not of others that were looked for later.
        file("verdict.txt", heading_lines(model_, versions(), "") + story_heading(model_, result_) + "\n" +
                                story(result_, {.others = false}) + safety_line() + "\n");
        const auto by_name = [](const auto& a, const auto& b) { return a.name < b.name; };
        std::sort(out_.files.begin(), out_.files.end(), by_name);
        std::sort(out_.obligations.begin(), out_.obligations.end(), by_name);
        out_.folder = evidence_folder(model_, result_.claim);
        return std::move(out_);
    }

 private:
    void file(const std::string& name, const std::string& text) { out_.files.push_back({name, text}); }
    // An obligation of certify, or one of time.
    template <class Checked>
    void smt2(const Checked& o) {
        const std::string text = heading_lines(model_, versions(), "; ") + o.text;
        out_.obligations.push_back({o.name, text, o.satisfiable ? Obligation::Status::sat : Obligation::Status::unsat});
        file(o.name + ".smt2", text);
    }
    void certificate(const lanyard::claims::Certificate& c, Target target) {
        for (const auto& o : lanyard::certify::obligations(question(model_, result_, target), c)) smt2(o);
        std::string lemmas = heading_lines(model_, versions(), "; ");
        for (const auto& l : c.lemmas) lemmas += l + "\n";
        file("invariant.txt", lemmas);
    }
    void run(const lanyard::claims::Run& r, const std::string& name) {
        const Question q = question(model_, result_, Target::bad);
        file(name + ".json", run_json(*q.model, r, q.claim, versions()));
        file(name + ".vcd", run_vcd(*q.model, r, q.claim, versions()));
    }

    const lanyard::model::Model& model_;
    const FilmedResult& result_;
    Evidence out_;
};

}  // namespace

std::string evidence_folder(const lanyard::model::Model& model, ClaimId claim) {
    std::string out = std::to_string(claim.index() + 1);
    if (out.size() < 2) out = "0" + out;
    std::string name;
    for (const char c : model.claims[claim].id) {
        const bool plain = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
        if (c >= 'A' && c <= 'Z')
            name += static_cast<char>(c - 'A' + 'a');
        else if (plain)
            name += c;
        else if (!name.empty() && name.back() != '-')
            name += '-';
    }
    while (!name.empty() && name.back() == '-') name.pop_back();
    return name.empty() ? out : out + "-" + name.substr(0, 60);
}

Evidence evidence_of(const FilmedResult& result) { return Writer(result).evidence(); }

EvidenceMark mark_of(ClaimId claim, const Evidence& evidence) {
    std::string sums;  // as `sha256sum *` prints them
    for (const auto& file : evidence.files) sums += sha256_hex(file.text) + "  " + file.name + '\n';
    return {claim, evidence.folder, sha256_hex(sums)};
}

std::vector<FolderFile> evidence(const Results& results) {
    std::vector<FolderFile> files{{"recheck.sh", recheck, true}};
    for (const Evidence& of_claim : judged_of(results).evidence())
        for (const auto& file : of_claim.files) files.push_back({of_claim.folder + "/" + file.name, file.text});
    return files;
}

std::string evidence_readme(const Results& results) {
    return heading_lines(judged_of(results).model.impl().model, versions(), "") +
           "\nOne folder for each claim. A proof: the invariant, and obligations as SMT-LIB 2.6 files, each with the "
           "answer\n"
           "that it must have (start, step, safe: unsat; alive: sat). A refutation: the run as JSON and as VCD; of a\n"
           "recoverable claim also the proof that nothing after the run reaches the goal (reached: sat).\n"
           "sh recheck.sh asks every solver that is installed.\n\n" +
           safety_line() + "\n";
}

std::vector<Obligation> obligations(const Results& results, std::size_t claim) {
    return judged_of(results).evidence().at(claim).obligations;
}

}  // namespace lanyard::api
