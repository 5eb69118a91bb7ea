// Power, retained memory, switches, relays, loads. The rules are those of the model's meaning (`lanyard help meaning`);
// where a fact comes from elsewhere its source stands beside it.
#include <tuple>

#include "bench.hpp"

using namespace lanyard::sim;
using namespace lanyard::test;

TEST_CASE("an unpowered controller runs no block at all") {
    Bench b(
        "'inputs': {'master': 'maintained', 'start': 'maintained', 'clear': 'maintained'}, "
        "'logic': {'warm': 'TON(start, 20 ms)', 'lost': 'SR(start, clear)', "
        "'kept': {'is': 'SR(start, clear)', 'retained': true}, 'low': 'NOT start', 'again': 'F_TRIG(start)'}, "
        "'outputs': {'lamp': 'lost', 'horn': 'NOT start'}, 'supply': 'master'");
    b.step();
    CHECK(!b.on("powered"));
    CHECK(!b.on("low"));  // off, although its expression is true
    CHECK(!b.on("horn"));
    b.set("master", true).set("start", true).step(3);
    CHECK(b.on("powered"));
    CHECK(b.on("warm"));
    CHECK(b.on("lost"));
    CHECK(b.on("kept"));
    // The supply dips for one scan, the clear button is pressed meanwhile.
    b.set("master", false).set("clear", true).set("start", false).step();
    CHECK(!b.on("kept"));  // reads off
    b.set("master", true).set("clear", false).step();
    CHECK(!b.on("lost"));  // cleared by the dip
    CHECK(b.on("kept"));   // neither set nor reset meanwhile
    CHECK(!b.on("warm"));
    // F_TRIG stands at its power-up value again: CLK off at the first powered scan pulses (IEC 61131-3 table 35).
    CHECK(b.on("again"));
}

TEST_CASE("observers go on without the controller's power") {
    Bench b(
        "'inputs': {'master': 'maintained', 'a': 'maintained'}, 'outputs': {'lamp': 'a'}, 'supply': 'master', "
        "'claims': {'c': {'always': 'NOT TON(a, 20 ms)'}}",
        "any", ClaimId(0));
    b.set("a", true);
    CHECK(!b.step().violated);
    CHECK(!b.step().violated);
    CHECK(b.step().violated);
}

TEST_CASE("supply may depend on the outputs of the scan before") {
    // A hold relay: the key wakes the controller, which keeps itself awake through `hold`.
    Bench b("'inputs': {'key': 'maintained'}, 'outputs': {'hold': 'TOF(key, 30 ms)'}, 'supply': 'key OR hold'");
    b.step();
    CHECK(!b.on("powered"));
    b.set("key", true).step();
    CHECK(b.on("powered"));
    b.set("key", false).step(4);
    CHECK(b.on("powered"));  // hold has gone off at this scan
    CHECK(!b.on("hold"));
    b.step();
    CHECK(!b.on("powered"));
}

TEST_CASE("boot time leaves a choice within its interval") {
    const std::string text =
        "'inputs': {'key': 'maintained'}, 'outputs': {'lamp': 'key'}, "
        "'supply': {'when': 'key', 'boots_in': '20 .. 40 ms'}";
    // At scan 0 with supply the controller counts as booted.
    Bench at_once(text);
    at_once.set("key", true).boot(false).step();
    CHECK(at_once.on("powered"));

    for (int wait = 2; wait <= 4; ++wait) {
        Bench b(text);
        b.step();
        b.set("key", true).boot(true).step(2);
        CHECK(!b.on("powered"));  // the choice does not count before 20 ms
        b.boot(false).step(wait - 2);
        CHECK(!b.on("powered"));
        b.boot(wait < 4).step();  // nor behind 40 ms
        CHECK(b.on("powered"));
        b.boot(false).step();
        CHECK(b.on("powered"));  // up it stays
    }
}

TEST_CASE("what the controller sees of a switch") {
    Bench b(
        "'inputs': {'open': {'switch': 'maintained'}, "
        "'closed': {'switch': 'maintained', 'contact': 'normally closed'}, "
        "'slow': {'switch': 'maintained', 'may_be_missed': true}}, "
        "'outputs': {'q': 'open OR closed OR slow'}");
    b.miss("slow");
    CHECK(b.refusal().find("missed change: at the first scan") == 0);
    b.miss("slow", false).step();
    CHECK(!b.seen("open"));
    CHECK(b.seen("closed"));
    b.set("open", true).set("closed", true).set("slow", true).miss("slow").step();
    CHECK(b.seen("open"));
    CHECK(!b.seen("closed"));
    CHECK(b.on("slow"));
    CHECK(!b.seen("slow"));
    b.miss("slow").step();  // only the scan of the change can be missed
    CHECK(b.seen("slow"));
    b.miss("open");
    CHECK(b.refusal().find("missed change: open may not be missed") == 0);
}

namespace {

std::string two_relays(const std::string& times) {
    return "'inputs': {'a': 'maintained'}, "
           "'outputs': {'up': {'on': 'a', 'relay': 'k1'}, 'down': {'on': 'NOT a', 'relay': 'k2'}}, "
           "'relays': {'k1': {" +
           times + "}, 'k2': {" + times + "}}";
}

}  // namespace

TEST_CASE("an ideal relay follows in the same scan") {
    Bench b(two_relays(""));
    b.step();
    CHECK(!b.on("k1"));
    CHECK(b.on("k2"));
    b.set("a", true).step();
    CHECK(b.on("k1"));
    CHECK(!b.on("k2"));
    b.contact("k1", false);
    CHECK(b.refusal() == "relay: the contact of k1 cannot be off here: it was on, its coil is on");
}

TEST_CASE("relays in transit: the race has both orders") {
    // Two relays of a reversing starter, 10 ms each way: one scan in either position.
    const std::string text = two_relays("'pulls_in': '10 ms', 'drops_out': '10 ms'");
    Bench b(text);
    b.contact("k1", false).contact("k2", false).step();
    b.contact("k2", true).step();
    b.set("a", true);
    // Both on, both off, each alone: every order is there.
    for (const bool k1 : {false, true}) {
        for (const bool k2 : {false, true}) {
            Bench copy(text);
            copy.contact("k1", false).contact("k2", true).step();
            copy.set("a", true).contact("k1", k1).contact("k2", k2).step();
            CHECK(copy.on("k1") == k1);
            CHECK(copy.on("k2") == k2);
            // Behind the transit each follows its coil.
            copy.contact("k1", true).contact("k2", false).step();
            CHECK(copy.on("k1"));
            CHECK(!copy.on("k2"));
        }
    }
    // Moved it stays moved.
    b.contact("k1", true).contact("k2", true).step();
    b.contact("k1", false);
    CHECK(b.refusal().find("relay: the contact of k1 cannot be off here") == 0);
    // At the end of the longest time it must have moved.
    b.contact("k1", true).contact("k2", true);
    CHECK(b.refusal() ==
          "relay: the contact of k2 cannot be on here: it was on, its coil is off and has been for 1 scan before this "
          "one");
}

TEST_CASE("a relay's shortest time") {
    // Scan n after the coil's change is n * 10 ms after it (help meaning, 1 and 8): by hand, the first n with
    // n * 10 ms >= the shortest time, and the first with n * 10 ms >= the longest.
    for (const auto& [time, earliest, latest] :
         {std::tuple("15 .. 30 ms", 2, 3), std::tuple("10 .. 30 ms", 1, 3), std::tuple("9 .. 30 ms", 1, 3),
          std::tuple("20 .. 21 ms", 2, 3), std::tuple("0 .. 5 ms", 0, 1), std::tuple("15 .. 15 ms", 2, 2),
          std::tuple("5 .. 5 ms", 1, 1), std::tuple("1 .. 20 ms", 1, 2), std::tuple("21 .. 29 ms", 3, 3)}) {
        for (int at = 0; at <= 4; ++at) {
            Bench b(two_relays("'pulls_in': '" + std::string(time) + "'"));
            b.contact("k1", false).contact("k2", true);
            if (earliest > 0 || latest > 0) b.contact("k2", false);
            b.step();
            b.set("a", true);
            std::string refusal;
            for (int n = 0; n < at && refusal.empty(); ++n) {
                b.contact("k1", false);
                refusal = b.refusal();
                if (refusal.empty()) b.step();
            }
            b.contact("k1", true);
            if (refusal.empty()) refusal = b.refusal();
            INFO(time << ", moved at scan " << at << ": " << refusal);
            CHECK(refusal.empty() == (earliest <= at && at <= latest));
        }
    }
}

TEST_CASE("loads have power when one of their feeders has") {
    Bench b(
        "'inputs': {'a': 'maintained', 'b': 'maintained'}, 'quantities': {'x': '0 .. 100 %'}, "
        "'outputs': {'one': {'on': 'a', 'feeds': 'lamp'}, 'two': {'on': 'b', 'feeds': 'lamp'}, "
        "'fan': {'duty': 'x'}, 'own': 'a'}");
    b.set("x", "0 %").step();
    CHECK(!b.on("lamp"));
    const Model& m = b.model();
    const SignalId fan = signal(m, "fan", SignalKind::load);
    CHECK(std::get<bool>(b.step().signals[fan]) == false);
    b.set("b", true).set("x", "0.1 %");
    CHECK(std::get<bool>(b.step().signals[fan]) == true);  // a duty above 0 is power
    CHECK(b.on("lamp"));
}

TEST_CASE("tables: exact at their points, linear between them, held at the edges") {
    Bench one(
        "'quantities': {'x': '0 .. 100 V'}, 'tables': {'t': {'rows': {'of': 'x', 'at': ['10 V', '20 V', '40 V']}, "
        "'cells': ['0 A', '5 A', '25 A']}}, 'logic': {'y': 'table(t, x)'}");
    const auto at = [](Bench& b, const char* x) {
        b.set("x", x).step();
        return b.at("y");
    };
    CHECK(at(one, "0 V") == 0);
    CHECK(at(one, "10 V") == 0);
    CHECK(at(one, "13 V") == Rational(3, 2));
    CHECK(at(one, "20 V") == 5);
    CHECK(at(one, "40 V") == 25);
    CHECK(at(one, "99 V") == 25);
    // The middle of four corners is their mean.
    Bench two(
        "'quantities': {'x': '0 .. 100 V', 'z': '0 .. 100 A'}, "
        "'tables': {'t': {'rows': {'of': 'x', 'at': ['0 V', '10 V']}, 'columns': {'of': 'z', 'at': ['0 A', '20 A']}, "
        "'cells': [['0 V', '4 V'], ['8 V', '20 V']]}}, 'logic': {'y': 'table(t, x, z)'}");
    two.set("z", "10 A");
    CHECK(at(two, "5 V") == 8);
    two.set("z", "5 A");
    CHECK(at(two, "0 V") == 1);
    CHECK(at(two, "10 V") == 11);
    CHECK(at(two, "50 V") == 11);
}
