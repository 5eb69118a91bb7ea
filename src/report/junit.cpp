#include "report/junit.hpp"

#include "base/characters.hpp"
#include "base/xml_text.hpp"
#include "report/claim_words.hpp"
#include "report/rules.hpp"
#include "report/story.hpp"
#include "report/terminal.hpp"
#include "report/words.hpp"

namespace lanyard::report {

namespace {

std::string attribute(const std::string& name, const std::string& value) {
    return ' ' + name + "=\"" + xml_text(value) + '"';
}

std::string property(const std::string& name, const std::string& value) {
    return "      <property" + attribute("name", name) + attribute("value", value) + "/>\n";
}

// What a verdict is in this format; empty: the test case has passed.
std::string element_of(const Verdict& v) {
    if (std::holds_alternative<Proved>(v)) return "";
    return std::holds_alternative<Undecided>(v) ? "error" : "failure";
}

// The groups of test cases: the model's own claims, and each rule.
std::string group_of(const Model& m, const Claim& c) { return c.rule.empty() ? sanitize_for_terminal(m.name) : c.rule; }

std::string case_begin(const std::string& group, const std::string& name) {
    return "    <testcase" + attribute("classname", group) + attribute("name", name) + ">\n";
}

std::string claim_case(const Model& m, const FilmedResult& r) {
    const Claim& c = m.claims[r.claim];
    std::string out = case_begin(group_of(m, c), c.id);
    const std::string element = element_of(r.verdict);
    const std::string told = xml_lines(story_heading(m, r) + '\n' + story(r));
    if (element.empty())
        out += "      <system-out>" + told + "</system-out>\n";
    else
        out += "      <" + element + attribute("type", verdict_name(r.verdict)) + attribute("message", summary(r)) +
               '>' + told + "</" + element + ">\n";
    return out + "    </testcase>\n";
}

std::string skipped_case(const RuleUse& use) {
    return case_begin(use.rule, state_name(use.state)) + "      <skipped" +
           attribute("message", "does not apply: " + state_reason(use)) + "/>\n    </testcase>\n";
}

}  // namespace

std::string junit_xml(const Model& m, const FilmedResults& results, const Versions& versions) {
    std::size_t failures = 0, errors = 0, skipped = 0;
    std::string cases;
    for (const auto& r : results) {
        if (element_of(r.verdict) == "failure") ++failures;
        if (element_of(r.verdict) == "error") ++errors;
        cases += claim_case(m, r);
    }
    for (const auto& use : m.rules) {
        if (use.state == RuleState::judged) continue;
        ++skipped;
        cases += skipped_case(use);
    }
    const std::string counts = attribute("tests", std::to_string(results.size() + skipped)) +
                               attribute("failures", std::to_string(failures)) +
                               attribute("errors", std::to_string(errors));
    return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<testsuites" + counts + ">\n  <testsuite" +
           attribute("name", m.name) + counts + attribute("skipped", std::to_string(skipped)) +
           ">\n    <properties>\n" + property("model", file_name(m)) + property("sha256", m.sha256) +
           property("lanyard", versions.lanyard) + property("solver", versions.solver) +
           property("scan", exact_text(m.scan) + " s") + "    </properties>\n" + cases +
           "  </testsuite>\n</testsuites>\n";
}

}  // namespace lanyard::report
