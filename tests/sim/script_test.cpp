// Scripts of input changes, and the printers of runs.
#include "sim/script.hpp"

#include "bench.hpp"
#include "sim/trace.hpp"

using namespace lanyard::sim;
using namespace lanyard::test;

namespace {

const char* small =
    "'inputs': {'key': 'maintained', 'closed': {'switch': 'momentary', 'contact': 'normally closed'}}, "
    "'quantities': {'oil': '0 .. 100 psi'}, "
    "'outputs': {'lamp': 'key AND TON(oil < 20 psi, 20 ms)', 'fan': {'duty': 'table(t, oil)'}}, "
    "'tables': {'t': {'rows': {'of': 'oil', 'at': ['0 psi', '30 psi']}, 'cells': ['0 %', '100 %']}}, "
    "'engine': {'fires_with': ['lamp'], 'firing_time': '0 .. 50 ms'}, "
    "'conditions': {'keyed': 'key'}";

std::string errors(const std::string& text) {
    const auto m = shared_model(small);
    const ScriptResult r = read_script(*m, "script", text);
    CHECK(!r.script);
    return render(r.diagnostics, r.source);
}

bool has(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

void refused(const std::string& script, const std::string& part) {
    const std::string text = errors(script);
    INFO(script << "\n" << text);
    CHECK(has(text, part));
}

ScriptRun played(const std::string& text, const std::string& condition = "any") {
    const auto m = shared_model(small);
    const ScriptResult r = read_script(*m, "script", text);
    INFO(render(r.diagnostics, r.source));
    REQUIRE(r.script);
    return play_script(*m, *r.script, condition_named(*m, condition));
}

}  // namespace

TEST_CASE("a script as JSON") {
    const auto m = shared_model(small);
    const ScriptRun r = played(R"({"until": "100 ms", "changes": [
        {"at": "20 ms", "set": {"key": true, "oil": "12 psi"}},
        {"at": "65 ms", "set": {"oil": "30 psi", "closed": "on"}}]})");
    REQUIRE(r.scans.size() == 10);
    const auto at = [&](std::size_t scan, const char* name) { return r.scans[scan].signals[signal(*m, name)]; };
    CHECK(at(1, "key") == Value(false));
    CHECK(at(2, "key") == Value(true));
    CHECK(at(1, "oil") == Value(Rational(0)));
    CHECK(at(2, "oil") == Value(number(*m, "oil", "12 psi")));
    CHECK(at(6, "oil") == Value(number(*m, "oil", "12 psi")));  // 65 ms: the scan at 70 ms
    CHECK(at(7, "oil") == Value(number(*m, "oil", "30 psi")));
    CHECK(at(7, "closed") == Value(true));
    CHECK(r.diagnostics.list().empty());
    CHECK(replay(*m, r.run, any_condition, {}).legal);
    std::string changed;
    for (const SignalId id : r.changed) changed += m->name_of(id) + " ";
    CHECK(has(changed, "key "));
    CHECK(has(changed, "lamp "));
    CHECK(!has(changed, "powered"));
    // Without "until": one second behind the last change.
    CHECK(played(R"({"changes": [{"at": "1 s", "set": {"key": true}}]})").scans.size() == 200);
}

TEST_CASE("a script as CSV") {
    const auto m = shared_model(small);
    const ScriptRun r = played(
        "time,key,oil [psi],engine\r\n# a comment\n0,,5,\n\n0.02,on,,\n30 ms,,\"12 psi\",cranking\n"
        "0.05,1,,running\n0.2,,,\n");
    REQUIRE(r.scans.size() == 21);
    const auto at = [&](std::size_t scan, const char* name) { return r.scans[scan].signals[signal(*m, name)]; };
    CHECK(at(0, "oil") == Value(number(*m, "oil", "5 psi")));
    CHECK(at(1, "key") == Value(false));
    CHECK(at(2, "key") == Value(true));
    CHECK(at(3, "oil") == Value(number(*m, "oil", "12 psi")));
    CHECK(at(4, "engine") == Value(Mode::cranking));
    CHECK(at(20, "engine") == Value(Mode::running));
}

TEST_CASE("a script as a spreadsheet with a decimal comma writes it") {
    const auto m = shared_model(small);
    const ScriptRun r = played(
        "\xEF\xBB\xBF\"time\";key;oil [psi];;\r\n0;;4,5;;\r\n0,02;on;;;\r\n;;;;\r\n\"0,05 s\";;\"12,25 psi\";;\r\n");
    REQUIRE(r.scans.size() == 6);
    CHECK(r.scans[0].signals[signal(*m, "oil")] == Value(number(*m, "oil", "4.5 psi")));
    CHECK(r.scans[2].signals[signal(*m, "key")] == Value(true));
    CHECK(r.scans[5].signals[signal(*m, "oil")] == Value(number(*m, "oil", "12.25 psi")));
    CHECK(errors("time;key;\n0;on;maybe\n") ==
          "script:2:6: error: this cell has no name at the head of its column [script-form]\n  0;on;maybe\n"
          "       ^~~~~\n");
    refused("time,oil [psi]\n\"0,5\",1\n", "script:2:1: error: ");
}

TEST_CASE("errors of a script say where and what") {
    refused("{\n \"until\": \"1 s\",\n \"changes\": [{\"at\": \"0 s\", \"set\": {\"kee\": true}}]}",
            "script:3:36: error: the model has nothing called `kee` [script-name]");
    refused(R"({"changes": [{"at": "0 s", "set": {"kee": true}}]})", "did you mean `key`?");
    refused(R"({"changes": [{"at": "0 s", "set": {"lamp": true}}]})", "the controller decides it");
    refused(R"({"changes": [{"at": "0 s", "set": {"key": "12 psi"}}]})", "[script-value]");
    refused(R"({"changes": [{"at": "0 s", "set": {"key": []}}]})", "[script-value]");
    refused(R"({"changes": [{"at": "0 s", "set": {"engine": "flying"}}]})", "is not an engine mode");
    CHECK(errors(R"({"changes": [{"at": "0 s", "set": {"oil": "12 V"}}]})") != "");
    CHECK(errors(R"({"changes": [{"at": "0 s", "set": {"oil": 12}}]})") != "");
    refused(R"({"changes": [{"at": "2 s", "set": {"key": true}}], "until": "1 s"})", "[script-time]");
    refused(R"({"changes": [{"at": "-1 s", "set": {"key": true}}]})", "before the run begins");
    refused(R"({"until": "1e30 s"})", "[script-too-long]");
    refused(R"({"chanches": []})", "did you mean \"changes\"?");
    refused(R"({"changes": {}})", "changes is a list");
    refused(R"({"changes": [3]})", "a change is an object");
    refused(R"({"changes": [{}]})", "this change has no \"at\"");
    CHECK(errors("{\"changes\": [") != "");
    refused("", "this script is empty");
    refused("time,key\n0,on\n1,maybe\n", "script:3:3: error: `maybe` is not a position of `key`");
    refused("time,kee\n0,on\n", "script:1:6: error: the model has nothing called `kee`");
    refused("key,oil\n0,on\n", "no column is called time");
    refused("time,key\n0\n", "script:2:1: error: this line has 1 cell, the head has 2");
    CHECK(errors("time,oil\n0,12\n") != "");  // no unit anywhere
    CHECK(errors("time,key\nsoon,on\n") != "");
}

TEST_CASE("a script is told where it does not get its way") {
    const ScriptRun r = played(R"({"until": "50 ms", "changes": [
        {"at": "0 s", "set": {"key": false, "oil": "120 psi", "engine": "running"}}]})",
                               "keyed");
    std::string text;
    for (const auto& d : r.diagnostics.list()) {
        CHECK(d.severity == Severity::warning);
        text += d.what + "\n";
    }
    CHECK(has(text, "key cannot be off at 0 s; it is on"));
    CHECK(has(text, "oil cannot be 120 psi at 0 s; it is 100 psi"));
    CHECK(has(text, "the engine was never running until 0.05 s"));
}

TEST_CASE("a script lets anything break by its name") {
    const auto m = shared_model(
        "'inputs': {'key': 'maintained', 'oil': {'senses': 'oil_pressure'}}, "
        "'outputs': {'main': {'on': 'key', 'relay': 'K1'}}, "
        "'relays': {'K1': {'pulls_in': '10 ms', 'drops_out': '10 ms'}}, "
        "'faults': {'oil.open': {'reads': '8 bar', 'comes_and_goes': true}}");
    const ScriptResult r =
        read_script(*m, "script", "time,key,K1.welded,oil.open\n0,on,,\n0.05,,on,on\n0.06,off,,\n0.08,,off,off\n");
    INFO(render(r.diagnostics, r.source));
    REQUIRE(r.script);
    const ScriptRun run = play_script(*r.model, *r.script, any_condition);
    REQUIRE(run.scans.size() == 9);
    const auto at = [&](std::size_t scan, const char* name) { return run.scans[scan].signals[signal(*r.model, name)]; };
    CHECK(at(4, "K1.welded") == Value(false));
    CHECK(at(5, "K1.welded") == Value(true));
    CHECK(at(8, "K1") == Value(true));
    CHECK(at(5, "oil") == Value(number(*m, "oil", "8 bar")));
    CHECK(at(8, "oil.open") == Value(false));
    CHECK(at(8, "oil") == Value(Rational(0)));
    // What is welded stays so.
    CHECK(has(render(run.diagnostics, r.source), "K1.welded cannot be off at 0.08 s; it is on"));
    const std::string csv = to_csv(*r.model, run.scans, shown_columns(*r.model, run.scans));
    CHECK(has(csv, "K1.welded"));
    CHECK(has(csv, "oil.open"));
    CHECK(!has(csv, "K1.slow"));
    const ScriptResult wrong = read_script(*m, "script", "time,K1.weldet\n0,on\n");
    CHECK(has(render(wrong.diagnostics, wrong.source), "did you mean `K1.welded`?"));
}

TEST_CASE("faults that never are there are no columns") {
    const auto m = shared_model(
        "'outputs': {'main': {'on': 'FALSE', 'relay': 'K1'}}, 'relays': {'K1': {}}, "
        "'conditions': {'broken': {'faults': {'of': ['K1.welded']}}}");
    const ScriptResult r = read_script(*m, "script", "time\n0\n0.02\n");
    REQUIRE(r.script);
    const ScriptRun run = play_script(*r.model, *r.script, any_condition);
    CHECK(has(to_csv(*m, run.scans, all_columns(*m)), "K1.welded"));
    CHECK(!has(to_csv(*m, run.scans, shown_columns(*m, run.scans)), "K1.welded"));
}

TEST_CASE("columns: what is there twice is shown once") {
    const auto m = shared_model(small);
    std::string names;
    for (const auto& c : all_columns(*m)) names += c.name + " ";
    CHECK(has(names, "key "));
    CHECK(!has(names, "key.seen"));
    CHECK(has(names, "closed closed.seen ") == has(names, "closed.seen "));
    CHECK(has(names, "fan "));
    CHECK(has(names, "fan.powered "));
    CHECK(!has(names, "lamp.powered"));
}

namespace {

std::vector<TraceColumn> columns(const Model& m, const std::vector<std::string>& names) {
    std::vector<TraceColumn> out;
    for (const auto& n : names) out.push_back({signal(m, n), n});
    return out;
}

const char* turn_on = R"({"until": "50 ms", "changes": [
    {"at": "20 ms", "set": {"key": true, "oil": "2.5 psi"}}, {"at": "30 ms", "set": {"engine": "cranking"}}]})";

}  // namespace

TEST_CASE("a run as a table") {
    const auto m = shared_model(small);
    const ScriptRun r = played(turn_on);
    CHECK(text_table(*m, r.scans, columns(*m, {"key", "oil", "engine", "lamp"})) ==
          "time    key  oil      engine    lamp\n"
          "0 s     off  0 psi    stopped   off\n"
          "0.02 s  on   2.5 psi  stopped   on\n"
          "0.04 s  on   2.5 psi  cranking  on\n");
    CHECK(changing_columns(*m, r.scans).size() < all_columns(*m).size());
}

TEST_CASE("a run as CSV") {
    const auto m = shared_model(small);
    CHECK(to_csv(*m, played(turn_on).scans, columns(*m, {"key", "oil", "engine"})) ==
          "time [s],key,oil [psi],engine\n"
          "0,0,0,stopped\n"
          "0.01,0,0,stopped\n"
          "0.02,1,2.5,stopped\n"
          "0.03,1,2.5,stopped\n"
          "0.04,1,2.5,cranking\n");
}

TEST_CASE("a run as a value change dump") {
    // Form: IEEE 1364-2005, clause 18 (from memory): declarations, $dumpvars, changes only, r for reals, b for vectors.
    const auto m = shared_model(small);
    CHECK(to_vcd(*m, played(turn_on).scans, columns(*m, {"key", "oil", "engine"})) ==
          "$version lanyard $end\n"
          "$timescale 1 ms $end\n"
          "$scope module bench $end\n"
          "$var reg 2 # engine [1:0] $end\n$comment 0 stopped, 1 cranking, 2 running, 3 coasting $end\n"
          "$scope module inputs $end\n"
          "$var wire 1 ! key $end\n"
          "$upscope $end\n"
          "$scope module world $end\n"
          "$var real 64 \" oil $end\n$comment oil in psi $end\n"
          "$upscope $end\n"
          "$upscope $end\n"
          "$enddefinitions $end\n"
          "#0\n$dumpvars\n0!\nr0 \"\nb00 #\n$end\n"
          "#20\n1!\nr2.5 \"\n"
          "#40\nb01 #\n"
          "#50\n");
    const auto fine = shared_model("'scan': '2.5 ms', 'inputs': {'key': 'maintained'}, 'outputs': {'lamp': 'key'}");
    CHECK(has(to_vcd(*fine, {}, {}), "$timescale 1 us $end"));
    const auto slow = shared_model("'scan': '2 s', 'inputs': {'key': 'maintained'}, 'outputs': {'lamp': 'key'}");
    CHECK(has(to_vcd(*slow, {}, {}), "$timescale 1 s $end"));
}

TEST_CASE("numbers of a dump have as many places as tell them apart") {
    const auto m = shared_model(small);
    const auto numbers = [&](const std::string& first, const std::string& second) {
        const auto run = played(R"({"until": "20 ms", "changes": [{"at": "0 ms", "set": {"oil": ")" + first +
                                R"("}}, {"at": "10 ms", "set": {"oil": ")" + second + R"("}}]})");
        const std::string text = to_vcd(*m, run.scans, columns(*m, {"oil"}));
        return text.substr(text.find("#0"));
    };
    CHECK(numbers("12.34567 psi", "30 psi") == "#0\n$dumpvars\nr12.346 !\n$end\n#10\nr30 !\n#20\n");
    // Beside a threshold, beside another value of the run, beside 0.
    CHECK(numbers("19.99996 psi", "1 psi") == "#0\n$dumpvars\nr19.99996 !\n$end\n#10\nr1 !\n#20\n");
    CHECK(numbers("12.34567 psi", "12.34589 psi") == "#0\n$dumpvars\nr12.3457 !\n$end\n#10\nr12.346 !\n#20\n");
    CHECK(numbers("0.00004 psi", "1 psi") == "#0\n$dumpvars\nr0.00004 !\n$end\n#10\nr1 !\n#20\n");
}

TEST_CASE("where a signal stands in a dump") {
    const auto m = shared_model(small);
    std::vector<TraceColumn> named = columns(*m, {"key", "key", "key", "oil"});
    named[1].name = "W1.2.to ground";
    named[2].name = "W1.2.to_ground";
    named[3].name = "pump.powered";
    std::vector<std::string> paths;
    for (const auto& p : trace_paths(*m, named)) paths.push_back(p.whole());
    // A part that begins with a digit is no identifier (IEEE 1364-2005, 3.7), and no two paths are equal.
    CHECK(paths == std::vector<std::string>{"bench.inputs.key", "bench.inputs.W1._2.to_ground",
                                            "bench.inputs.W1._2.to_ground_2", "bench.world.pump.powered"});
}
