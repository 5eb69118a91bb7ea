// lanyard card: what to set and to see on the bench; and with --check, what a filled-in card says.
#include <iostream>

#include "cli/commands.hpp"
#include "cli/interrupt.hpp"
#include "cli/terminal.hpp"

namespace lanyard::cli {

namespace {

Exit check_filled_card(const CommandLine& line, const api::Model& model, const std::string& filled,
                       api::Limits limits) {
    std::variant<api::CardCheck, api::Rejected> checked;
    {
        const InterruptWatch watch;
        limits.stop = watch.token();
        checked = api::check_card(model, filled, limits);
    }
    if (const auto* rejected = std::get_if<api::Rejected>(&checked)) return complain(*rejected);
    const auto& check = std::get<api::CardCheck>(checked);
    if (check.interrupted) return Exit::interrupted;
    if (const Exit exit = deliver(line, model.heading() + "\n\n" + check.text); exit != Exit::all_proved) return exit;
    return exit_of(check.outcome, false);
}

}  // namespace

Exit card_command(const CommandLine& line) {
    auto loaded = load_or_complain(line);
    if (const Exit* exit = std::get_if<Exit>(&loaded)) return *exit;
    const auto& model = std::get<api::Model>(loaded);
    api::Limits limits;
    if (auto error = read_limits(line, limits)) return complain(*error);
    if (const auto filled = line.text("--check")) {
        if (line.has("--format"))
            return complain(
                UsageError{"--check and --format cannot be combined", "--check reads a card and writes none"});
        return check_filled_card(line, model, *filled, limits);
    }
    api::CardReport card;
    {
        const InterruptWatch watch;
        limits.stop = watch.token();
        card = api::bench_card(model, limits);
    }
    if (card.interrupted) {
        std::cerr << "lanyard: interrupted, so no card was written\n";
        return Exit::interrupted;
    }
    const std::string format = line.text("--format").value_or("text");
    const std::string text = format == "csv" ? csv_for(line, card.csv) : format == "html" ? card.html : card.text;
    if (const Exit exit = deliver(line, text); exit != Exit::all_proved) return exit;
    return exit_of(card.outcome, false);
}

}  // namespace lanyard::cli
