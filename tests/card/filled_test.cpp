// The card that was filled in: RFC 4180, values that people write, and everything that can be wrong with it.
#include "base/csv.hpp"
#include "bench.hpp"
#include "report/card.hpp"
#include "report/filled_card.hpp"

using namespace lanyard::card;
using namespace lanyard::report;
using namespace lanyard::test;

namespace {

const char* const car = R"json({"lanyard": 1, "name": "t", "quantities": {"heat": "0 .. 200 degC"},
    "inputs": {"key": {"switch": "maintained", "terminal": "A1"}, "arm": {"switch": "maintained"},
        "sense": {"senses": "heat", "accuracy": "1 K"}},
    "outputs": {"pump": {"on": "key AND arm", "terminal": "C1"}, "fan": {"on": "sense > 90 degC"},
        "late": {"on": "TON(key, 2 s)"}},
    "claims": {"no pump without key": {"always": "pump -> key"}, "fan cools": {"always": "heat > 95 degC -> fan"}}})json";

// The card with every expected value written in; `instead` for one item.
std::string filled(const Model& m, const Card& card, int item = 0, const std::string& instead = "") {
    std::string out = csv_line(card_columns());
    for (const auto& s : card.steps)
        for (const auto& r : s.readings) {
            std::string found = r.kind == LookKind::stopwatch ? rounded_text(r.low + Rational(1, 10), 3) : r.expected;
            if (r.number == item) found = instead;
            out += csv_line({card_mark(m, card).text(), std::to_string(r.number), std::to_string(s.number), "", "", "",
                             r.where, r.terminal, r.expected, found, r.remark});
        }
    return out;
}

FilledCard read(const Model& m, const Card& card, const std::string& text) {
    return read_filled_card(m, card, SourceText("card.csv", text));
}

const CardReading& reading_at(const Card& card, const std::string& where, LookKind kind) {
    for (const auto& s : card.steps)
        for (const auto& r : s.readings)
            if (r.where == where && r.kind == kind && !r.either) return r;
    FAIL("no reading of " << where);
    return card.steps.front().readings.front();
}

}  // namespace

TEST_CASE("a card that agrees in everything") {
    const Model m = model_from(car);
    const Card card = card_of(m);
    const FilledCard f = read(m, card, filled(m, card));
    CHECK(f.diagnostics.list().empty());
    CHECK(f.read == card.readings);
    CHECK(f.wrong.empty());
    CHECK(f.missing == 0);
}

TEST_CASE("a card that a spreadsheet with a decimal comma has saved") {
    const Model m = model_from(car);
    const Card card = card_of(m);
    const FilledCard f = read(m, card, semicolon_csv(filled(m, card)));
    CHECK(f.diagnostics.list().empty());
    CHECK(f.read == card.readings);
    CHECK(f.wrong.empty());
}

TEST_CASE("one wrong reading is found, with the claims that can depend on it and no others") {
    const Model m = model_from(car);
    const Card card = card_of(m);
    const CardReading& r = reading_at(card, "pump", LookKind::state);
    const SourceText source("card.csv", filled(m, card, r.number, r.is_on ? "OFF" : " on "));
    const FilledCard f = read_filled_card(m, card, source);
    REQUIRE(f.wrong.size() == 1);
    CHECK(f.wrong[0].reading == &r);
    CHECK(f.wrong[0].claims == std::vector{ClaimId(0)});
    CHECK(f.wrong[0].place.line == static_cast<std::size_t>(r.number) + 1);
    const std::string text = filled_card_text(m, card, f, source);
    CHECK(text.find("no pump without key") != std::string::npos);
    CHECK(text.find("fan cools") == std::string::npos);
}

TEST_CASE("times agree within what a hand needs") {
    const Model m = model_from(car);
    const Card card = card_of(m);
    const CardReading& r = reading_at(card, "late", LookKind::stopwatch);
    for (const char* good : {"1.7", "2.32", "2,1", "2.0 s"})
        CHECK(read(m, card, filled(m, card, r.number, good)).wrong.empty());
    for (const char* bad : {"1.69", "2.33", "20"})
        CHECK(read(m, card, filled(m, card, r.number, bad)).wrong.size() == 1);
}

TEST_CASE("exactly at a threshold of a sensor with an accuracy both sides agree") {
    const Model m = model_from(car);
    const Card card = card_of(m);
    for (const auto& s : card.steps)
        for (const auto& r : s.readings) {
            if (!r.either) continue;
            const FilledCard f = read(m, card, filled(m, card, r.number, r.is_on ? "off" : "on"));
            CHECK(f.wrong.empty());
            CHECK(f.on_threshold == 1);
        }
}

TEST_CASE("what is wrong with a card is told with line and column, all of it") {
    const Model m = model_from(car);
    const Card card = card_of(m);
    const std::string mark = card_mark(m, card).text();
    const CardReading& r = card.steps[0].readings[0];
    const std::string number = std::to_string(r.number);
    const SourceText source("card.csv", "model,item,where,expected,reading\r\n" + mark + ",999,pump,on,on\r\n" +
                                            "abc," + number + ",pump,on,on\r\n" + mark + "," + number + "," + r.where +
                                            "," + r.expected + ",maybe\r\n" + mark + "," + number + "," + r.where +
                                            "," + r.expected + ",\r\n" + mark + ",2\r\n" + mark +
                                            ",2,\"x\"y,on,on\r\n");
    const FilledCard f = read_filled_card(m, card, source);
    const std::string text = render(f.diagnostics, source);
    for (const char* part :
         {"card.csv:2:21: error: the card has no item `999` [card-form]",
          "card.csv:3:1: error: this line belongs to another model: `abc`", "`maybe` is not a reading of item ",
          "on or off", "appears again here", "line 4 has it too",
          "card.csv:6:1: error: this line has 2 fields, the first line has 5",
          "card.csv:7:26: error: there is something after the closing quote", "item 2 is not as on the card"}) {
        INFO(text);
        CHECK(text.find(part) != std::string::npos);
    }
}

TEST_CASE("a card of the same model that was made within other limits is another card") {
    const Model m = model_from(car);
    DriverOptions none = usual_limits();
    none.work_limit = 300;
    const Card card = card_of(m), shorter = make_card(m, none);
    const FilledCard f = read(m, card, filled(m, shorter, 0));
    REQUIRE(shorter.readings > 0);
    CHECK(f.diagnostics.list().size() == shorter.readings);
    CHECK(f.read == 0);
    const SourceText source("card.csv", filled(m, shorter));
    CHECK(render(f.diagnostics, source).find("another card of this model") != std::string::npos);
}

TEST_CASE("files that are no card") {
    const Model m = model_from(car);
    const Card card = card_of(m);
    const auto said = [&](const std::string& text) {
        const SourceText source("card.csv", text);
        return render(read_filled_card(m, card, source).diagnostics, source);
    };
    CHECK(said("").find("card.csv:1:1: error: this card is empty [card-form]") != std::string::npos);
    CHECK(said("model;item;where;expected\n").find("the card has no column `reading`") != std::string::npos);
    CHECK(said("a,b\n").find("the card has no column `reading`") != std::string::npos);
    CHECK(said("model,item,where,expected,reading\n\"a").find("this quote is never closed") != std::string::npos);
}
