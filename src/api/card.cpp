// The bench card, and what became of it.
#include "api/card.hpp"

#include "base/file.hpp"
#include "card/make_card.hpp"
#include "page/card_page.hpp"
#include "report/card.hpp"
#include "report/filled_card.hpp"

namespace lanyard::api {

namespace {

constexpr std::size_t largest_card = std::size_t{8} << 20U;

Outcome card_outcome(const Card& card) {
    const bool open = std::any_of(card.gaps.begin(), card.gaps.end(), [](const CardGap& g) {
        return g.kind == GapKind::undecided || g.kind == GapKind::not_found || g.kind == GapKind::too_large;
    });
    return open ? Outcome::undecided : Outcome::all_proved;
}

}  // namespace

Card card_of(const Model& model, const CardOptions& options) {
    DriverOptions proofs = limits_of(options);
    proofs.work_limit = options.work.value_or(card::work_of_question);
    try {
        return make_card(model.impl().model, proofs);
    } catch (const lanyard::InternalError& e) {
        report_internal(model, e.what());
    }
}

CardReport card_report(const Model& model, const Card& card) {
    const lanyard::Model& m = model.impl().model;
    CardReport out;
    out.heading = model.heading();
    out.text = card_text(m, card, versions());
    out.csv = card_csv(m, card);
    out.html = card_page(m, card, versions());
    out.outcome = card_outcome(card);
    out.interrupted = card.interrupted;
    return out;
}

CardReport bench_card(const Model& model, const CardOptions& options) {
    return card_report(model, card_of(model, options));
}

std::variant<CardCheck, Rejected> check_card(const Model& model, const std::filesystem::path& filled,
                                             const CardOptions& options) {
    const auto text = read_file(filled, largest_card);
    if (!text) return Rejected{filled.string() + ": error: this file cannot be read\n", true};
    const lanyard::Model& m = model.impl().model;
    const Card card = card_of(model, options);
    CardCheck out;
    out.interrupted = card.interrupted;
    if (out.interrupted) return out;
    const SourceText source(filled.string(), *text);
    const FilledCard read = read_filled_card(m, card, source);
    if (read.diagnostics.has_errors()) return Rejected{render(read.diagnostics, source), false};
    out.text = filled_card_text(m, card, read, source);
    out.read = read.read;
    out.wrong = read.wrong.size();
    out.missing = read.missing;
    out.outcome = out.wrong > 0 ? Outcome::failed : out.missing > 0 ? Outcome::undecided : Outcome::all_proved;
    return out;
}

}  // namespace lanyard::api
