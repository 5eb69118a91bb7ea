// The run that is shown with a proof shows the claim at work: the answer was missing while nothing called for it, then
// it was called for, and came. Looked at through the signals of the run, scan by scan.
#include <catch2/catch.hpp>

#include "../models.hpp"
#include "prove/driver.hpp"
#include "sim/interpreter.hpp"

using namespace lanyard::prove;
using namespace lanyard::test;

namespace {

const std::string car =
    "'quantities': {'speed': '0 .. 9000 rpm', 'oil': '0 .. 6 bar'}, 'inputs': {'key': 'maintained', 'kill': "
    "'maintained'}, 'engine': {'speed': 'speed', 'oil_pressure': 'oil', 'fires_with': ['coil']}, "
    "'outputs': {'coil': 'key AND NOT kill AND NOT TON(oil < 1 bar, 3 s)', 'lamp': 'key AND kill'}, ";

// The signals at each scan of the one claim's example.
std::vector<Indexed<Signal, Value>> shown(const Model& m) {
    DriverOptions options;
    options.claims.push_back(m.claims.last());
    const DriverReport report = check_claims(m, options);
    const auto* proved = std::get_if<Proved>(&report.results.at(0).verdict);
    REQUIRE(proved != nullptr);
    const Claim& c = m.claims.back();
    std::vector<Indexed<Signal, Value>> out;
    bool demanded = false;
    Interpreter now(m, c.condition, m.claims.last());
    const Scan last = play(now, proved->shown(), [&](const Choices&, const Scan& s) {
        out.push_back(s.signals);
        demanded = demanded || s.demanded;
        return true;
    });
    CHECK(last.broken_rule.empty());
    CHECK(demanded);
    return out;
}

class Seen {
 public:
    explicit Seen(const std::string& claim) : m_(model_of(car + "'claims': {'c': " + claim + "}")), scans_(shown(m_)) {}
    // Scan by scan, '1' where it is on.
    std::string on(const std::string& name) const {
        std::string out;
        for (const auto& signals : scans_)
            out += std::get<bool>(signals[index_of(m_.signals, &Signal::name, name)]) ? '1' : '0';
        return out;
    }

 private:
    Model m_;
    std::vector<Indexed<Signal, Value>> scans_;
};

}  // namespace

TEST_CASE("a cut is shown cutting", "[exercise]") {
    const Seen run("{'whenever': 'kill', 'then': 'NOT coil', 'within': '50 ms'}");
    const std::size_t killed = run.on("kill").find('1');
    REQUIRE(killed != std::string::npos);
    REQUIRE(killed > 0);
    CHECK(run.on("coil")[killed - 1] == '1');
    CHECK(run.on("coil").back() == '0');
    CHECK(run.on("kill").substr(killed).find('0') == std::string::npos);
}

TEST_CASE("once is shown until the answer comes", "[exercise]") {
    const Seen run("{'once': 'kill', 'then': 'NOT coil', 'within': '50 ms'}");
    CHECK(run.on("coil").find('1') < run.on("kill").find('1'));
    CHECK(run.on("coil").back() == '0');
}

TEST_CASE("never both is shown with one after the other", "[exercise]") {
    const Seen run("{'always': 'NOT (lamp AND coil)'}");
    CHECK(run.on("coil").find('1') < run.on("lamp").find('1'));
    CHECK(run.on("lamp").back() == '1');
}

TEST_CASE("a premise that is there from the first scan on is first not there", "[exercise]") {
    const Seen run("{'always': 'NOT key -> NOT coil'}");
    CHECK(run.on("key").find('1') != std::string::npos);
    CHECK(run.on("coil").find('1') != std::string::npos);
    CHECK(run.on("key").back() == '0');
}

TEST_CASE("what never happens is shown of an engine that runs", "[exercise]") {
    const Seen run("{'always': 'NOT lamp OR NOT coil'}");
    CHECK(run.on("coil").find('1') != std::string::npos);
}

TEST_CASE("where no such run exists the plain one is shown", "[exercise]") {
    // The answer is there from the first scan on, whatever happens.
    const Seen run("{'whenever': 'kill', 'then': 'oil >= 0 bar', 'within': '50 ms', 'under': 'any'}");
    CHECK(run.on("kill").find('1') != std::string::npos);
}
