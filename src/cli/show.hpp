// The text of a check on the terminal: a line for each claim, then what is to be told of it.
#pragma once

#include <string>
#include <vector>

#include <lanyard/lanyard.hpp>

#include "cli/terminal.hpp"

namespace lanyard::cli {

// Each line harmless and behind `indent`.
std::string indented(const std::string& text, const std::string& indent);

class CheckText {
 public:
    // Times are shown on a terminal only, so that the text in a file can be compared. `evidence`: the folder of all
    // evidence, if it is to be named.
    CheckText(std::string model_file, const std::vector<api::ClaimInfo>& claims, Painter painter, bool times,
              std::optional<std::filesystem::path> evidence = {});

    // "  REFUTED  it starts  under healthy  some healthy engine never fires  0.04 s"
    std::string line(const api::ClaimReport& claim) const;
    // Heading and story, the folder of its evidence, on a terminal the times; empty if there is nothing to tell.
    std::string details(const api::ClaimReport& claim) const;
    // What is said of rule packs beside the verdicts of their claims; empty without packs.
    static std::string rules(const std::string& text);
    // What was seen in the wiring; empty if nothing was.
    static std::string findings(const std::string& text);
    // "14 claims: 10 proved, 4 refuted"
    std::string summary(const api::Results& results) const;
    // Everything behind the claims' lines. `beside`: what is said of rules and findings.
    std::string after_lines(const api::Results& results, const std::string& beside) const;

 private:
    std::string heading(const api::ClaimReport& claim) const;

    std::string model_file_;
    Painter painter_;
    bool times_;
    std::optional<std::filesystem::path> evidence_;
    std::size_t id_width_ = 0;
    std::size_t condition_width_ = 0;
};

// "proved", "REFUTED", "VACUOUS", "undecided": what is bad is told by its letters, not by colour alone.
std::string shown_verdict(const api::Verdict& verdict);

}  // namespace lanyard::cli
