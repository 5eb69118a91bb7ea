// The bench card, and what became of it.
#include <algorithm>

#include "api/beside.hpp"
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

Card made(const lanyard::model::Model& m, const Limits& limits) {
    DriverOptions proofs = driver_limits(limits);
    proofs.work_limit = limits.work.value_or(card::work_of_question);
    return make_card(m, proofs);
}

}  // namespace

CardReport bench_card(const Model& model, const Limits& limits) {
    return guarded(model, [&] {
        const lanyard::model::Model& m = model.impl().model;
        const auto kept = std::make_shared<CardReport::Made>(CardReport::Made{made(m, limits)});
        const Card& card = kept->card;
        return CardReport{card_text(m, card, versions()),
                          card_csv(m, card),
                          card_page(m, card, versions()),
                          card_outcome(card),
                          card.interrupted,
                          kept};
    });
}

std::variant<CardCheck, Rejected> check_card(const Model& model, const std::filesystem::path& filled,
                                             const Limits& limits) {
    const auto text = read_file(filled, largest_card);
    if (!text) return unreadable(filled);
    return guarded(model, [&]() -> std::variant<CardCheck, Rejected> {
        const lanyard::model::Model& m = model.impl().model;
        const Card card = made(m, limits);
        CardCheck out;
        out.interrupted = card.interrupted;
        if (out.interrupted) return out;
        const SourceText source(filled.string(), *text);
        const FilledCard read = read_filled_card(m, card, source);
        if (read.diagnostics.has_errors()) return rejected(read.diagnostics, source);
        out.text = filled_card_text(m, card, read, source);
        out.read = read.read;
        out.wrong = read.wrong.size();
        out.missing = read.missing;
        out.outcome = out.wrong > 0 ? Outcome::failed : out.missing > 0 ? Outcome::undecided : Outcome::all_proved;
        return out;
    });
}

}  // namespace lanyard::api
