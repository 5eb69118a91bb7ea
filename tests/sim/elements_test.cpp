// Memory elements. "IEC" = IEC 61131-3, edition 2, tables 34 (bistables), 35 (edges), 38 (timers), and the bodies of
// the standard's function blocks; where a sequence was worked out by hand from them, it says so.
#include "bench.hpp"

using namespace lanyard::sim;
using namespace lanyard::test;

namespace {

const char* ab = "'inputs': {'a': 'maintained', 'b': 'maintained'}, ";

std::string with(const std::string& definition, const std::string& scan = "10 ms") {
    return "'scan': '" + scan + "', " + ab + "'outputs': {'q': '" + definition + "'}";
}

// a and b through their sequences, q's answer.
std::string both(Bench& bench, const std::string& a, const std::string& b) {
    std::string text;
    for (std::size_t k = 0; k < a.size(); ++k) {
        bench.set("a", a[k] == '1').set("b", b[k] == '1').step();
        text += bench.on("q") ? '1' : '0';
    }
    return text;
}

}  // namespace

TEST_CASE("TON: on when its input has been on for PT") {
    // IEC table 38; worked out: 500 ms at 10 ms are reached at scan 50, counted from 0.
    Bench half(with("TON(a, 500 ms)"));
    half.set("a", true);
    for (int n = 0; n < 50; ++n) {
        half.step();
        REQUIRE(!half.on("q"));
    }
    half.step();
    CHECK(half.on("q"));
    half.set("a", false).step();
    CHECK(!half.on("q"));

    // IEC, worked out.
    CHECK(Bench(with("TON(a, 20 ms)")).answer("a", "0111101", "q") == "0001100");
    // PT no multiple of the scan period: the first scan at or after it.
    CHECK(Bench(with("TON(a, 25 ms)")).answer("a", "11111", "q") == "00011");
    CHECK(Bench(with("TON(a, 1 ms)")).answer("a", "0110", "q") == "0010");
    CHECK(Bench(with("TON(a, 0 s)")).answer("a", "0101", "q") == "0101");
}

TEST_CASE("TON: an interrupted fault never trips") {
    // Worked out: 0.9 s on, one scan off, repeated; PT 1 s.
    Bench bench(with("TON(a, 1 s)"));
    for (int round = 0; round < 20; ++round) {
        for (int n = 0; n < 90; ++n) {
            bench.set("a", true).step();
            REQUIRE(!bench.on("q"));
        }
        bench.set("a", false).step();
        REQUIRE(!bench.on("q"));
    }
}

TEST_CASE("TOF: stays on for PT after its input") {
    // IEC table 38, worked out; at a cold start with the input off there is no pulse.
    CHECK(Bench(with("TOF(a, 20 ms)")).answer("a", "01000", "q") == "01110");
    CHECK(Bench(with("TOF(a, 20 ms)")).answer("a", "0000", "q") == "0000");
    CHECK(Bench(with("TOF(a, 20 ms)")).answer("a", "10100100000", "q") == "11111111000");
    CHECK(Bench(with("TOF(a, 0 s)")).answer("a", "0101", "q") == "0101");
}

TEST_CASE("TP: a pulse is neither started again nor cut short") {
    // IEC table 38: a further edge while the pulse lasts changes nothing, nor does the input going off.
    CHECK(Bench(with("TP(a, 30 ms)")).answer("a", "0100000", "q") == "0111000");
    CHECK(Bench(with("TP(a, 30 ms)")).answer("a", "0101000", "q") == "0111000");
    CHECK(Bench(with("TP(a, 30 ms)")).answer("a", "0111111", "q") == "0111000");
    // An input that is on at the first scan is an edge.
    CHECK(Bench(with("TP(a, 20 ms)")).answer("a", "1111", "q") == "1100");
    // No source: the edge in the very scan in which the pulse ends is lost, the one behind it is not.
    CHECK(Bench(with("TP(a, 20 ms)")).answer("a", "1011011", "q") == "1100011");
    CHECK(Bench(with("TP(a, 20 ms)")).answer("a", "1001100", "q") == "1101100");
    // Re-armed by the input being off in the scan in which the pulse ends.
    CHECK(Bench(with("TP(a, 20 ms)")).answer("a", "1101100", "q") == "1101100");
}

TEST_CASE("SR and RS: which of the two inputs wins") {
    // IEC table 34: SR(1, 1) = 1, RS(1, 1) = 0.
    Bench sr(with("SR(a, b)"));
    CHECK(both(sr, "0100110", "0001100") == "0110111");
    Bench rs(with("RS(a, b)"));
    CHECK(both(rs, "0100110", "0001100") == "0110011");
}

TEST_CASE("R_TRIG and F_TRIG at power-up") {
    // IEC table 35, the standard's bodies: R_TRIG with CLK on at the first scan pulses; F_TRIG with CLK off does.
    CHECK(Bench(with("R_TRIG(a)")).answer("a", "1101", "q") == "1001");
    CHECK(Bench(with("R_TRIG(a)")).answer("a", "0110", "q") == "0100");
    CHECK(Bench(with("F_TRIG(a)")).answer("a", "0010", "q") == "1001");
    CHECK(Bench(with("F_TRIG(a)")).answer("a", "1100", "q") == "0010");
}

TEST_CASE("CTU counts rising edges, reset wins") {
    // IEC table 36: R wins over CU; CV goes no further than it matters.
    Bench three(with("CTU(a, b, 3)"));
    CHECK(both(three, "1010101010", "0000000010") == "0000111100");
    // No source: an edge during the reset is used up.
    Bench one(with("CTU(a, b, 1)"));
    CHECK(both(one, "0111001", "0110000") == "0000001");
}

TEST_CASE("comparator with two thresholds") {
    // The standard's example of a hysteresis block (IEC table 33 / annex F), XIN2 = 60, EPS = 5: strict on both sides.
    const std::string text =
        "'quantities': {'x': {'range': '0 .. 100 degC'}}, "
        "'outputs': {'q': 'band(x, on > 65 degC, off < 55 degC)'}";
    Bench bench(text);
    const auto at = [&](const char* x) {
        bench.set("x", x).step();
        return bench.on("q");
    };
    CHECK(!at("60 degC"));  // off at power-up
    CHECK(!at("65 degC"));
    CHECK(at("65.01 degC"));
    CHECK(at("60 degC"));
    CHECK(at("55 degC"));
    CHECK(!at("54.99 degC"));
    CHECK(!at("65 degC"));

    Bench low("'quantities': {'v': '0 .. 16 V'}, 'outputs': {'q': 'band(v, on < 11.5 V, off > 12.8 V)'}");
    low.set("v", "12 V").step();
    CHECK(!low.on("q"));
    low.set("v", "11.4 V").step();
    CHECK(low.on("q"));
    low.set("v", "12.8 V").step();
    CHECK(low.on("q"));
    low.set("v", "12.81 V").step();
    CHECK(!low.on("q"));
}

TEST_CASE("previous() and loop-backs read the scan before") {
    CHECK(Bench(with("previous(a)")).answer("a", "1100", "q") == "0110");
    CHECK(Bench(with("previous(previous(a))")).answer("a", "11001", "q") == "00110");
    CHECK(Bench(with("previous(TON(a, 10 ms))")).answer("a", "11110", "q") == "00111");
    // Legal cycles: a flip-flop through previous(), a seal-in through a loop-back.
    CHECK(Bench(with("a AND NOT previous(q)")).answer("a", "11110", "q") == "10100");
    Bench seal(
        "'inputs': {'a': 'momentary', 'b': 'maintained', 'back': {'reads_back': 'q'}}, "
        "'outputs': {'q': 'NOT b AND (a OR back)'}");
    CHECK(both(seal, "01000", "00010") == "01100");
}

TEST_CASE("rate of change") {
    // From the definition: (x now - x ceil(T/P) scans ago) / (ceil(T/P) P), 0 until there is a value so old.
    Bench bench("'quantities': {'x': '0 .. 100 V'}, 'logic': {'r': 'rate(x, 25 ms)'}");
    const auto at = [&](const char* x) {
        bench.set("x", x).step();
        return bench.at("r");
    };
    CHECK(at("10 V") == 0);
    CHECK(at("11 V") == 0);
    CHECK(at("13 V") == 0);
    CHECK(at("16 V") == Rational(6) / Rational(3, 100));
    CHECK(at("16 V") == Rational(5) / Rational(3, 100));
}

TEST_CASE("elements step once a scan, whatever stands beside them") {
    // TON must count although the AND is decided by b.
    Bench bench(with("b AND TON(a, 30 ms)"));
    CHECK(both(bench, "11111", "00001") == "00001");
    Bench twice(
        "'inputs': {'a': 'maintained'}, 'quantities': {'x': '0 .. 100 V'}, "
        "'outputs': {'q': 'band(rate(x, 10 ms), on > 100 V/s, off < 50 V/s)'}");
    twice.set("x", "0 V").step();
    twice.set("x", "2 V").step();  // 200 V/s
    CHECK(twice.on("q"));
}
