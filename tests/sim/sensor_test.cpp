// Sensors: accuracy, delay windows. The rules of `lanyard help meaning`.
#include "bench.hpp"

using namespace lanyard::sim;
using namespace lanyard::test;

namespace {

std::string sensor(const std::string& more) {
    return "'quantities': {'p': '0 .. 100 V'}, 'inputs': {'u': {'senses': 'p'" + more +
           "}}, 'outputs': {'q': 'u > 50 V'}";
}

}  // namespace

TEST_CASE("an exact sensor reads its quantity") {
    Bench b(sensor(""));
    b.set("p", "50 V").step();
    CHECK(!b.on("q"));
    b.set("p", "50.1 V").set("u", "50 V");
    CHECK(b.refusal() == "sensor: u reads 50 V, but p is 50.1 V; its accuracy is 0 V");
}

TEST_CASE("accuracy: anywhere around the value, chosen anew at each scan, not clipped") {
    Bench b(sensor(", 'accuracy': '0.5 V'"));
    b.set("p", "50 V").set("u", "50.5 V").step();
    CHECK(b.on("q"));
    b.set("u", "49.5 V").step();
    CHECK(!b.on("q"));
    b.set("u", "49.4 V");
    CHECK(b.refusal() != "");
    b.set("p", "0 V").set("u", "-0.5 V").step();
    b.set("p", "100 V").set("u", "100.5 V").step();
}

TEST_CASE("delay: some value of the last scans, chosen anew at each") {
    // 25 ms at 10 ms: this scan or one of the three before it.
    Bench b(sensor(", 'delay': '25 ms'"));
    b.set("p", "10 V").set("u", "10 V").step();
    b.set("p", "20 V").set("u", "10 V").step();
    b.set("p", "30 V").set("u", "20 V").step();
    b.set("p", "40 V").set("u", "10 V").step();  // from scan 0, three scans ago
    b.set("u", "20 V").step();                   // from scan 1
    CHECK(b.refusal() ==
          "sensor: u reads 20 V, but p is 40 V; its accuracy is 0 V, and in the previous 3 scans it was not that near "
          "either");
    b.set("u", "25 V");
    CHECK(b.refusal() != "");  // between two of them is none of them
    b.set("u", "30 V").step();
}

TEST_CASE("delay and accuracy together") {
    Bench b(sensor(", 'delay': '10 ms', 'accuracy': '1 V'"));
    b.set("p", "10 V").set("u", "11 V").step();
    b.set("p", "90 V").set("u", "9 V").step();
    b.set("u", "89 V").step();
    b.set("u", "11 V");
    CHECK(b.refusal() != "");
}

TEST_CASE("at scan 0 the present value is the past") {
    Bench b(sensor(", 'delay': '1 s'"));
    b.set("p", "10 V").set("u", "0 V");
    CHECK(b.refusal() != "");
}
