#include "model/codes.hpp"

namespace lanyard::model {

namespace {

void add(std::vector<CodeHelp>& table, Severity severity, std::vector<std::pair<const char*, const char*>> rows) {
    for (auto& [code, meaning] : rows) table.push_back({code, severity, meaning});
}

void add_file_codes(std::vector<CodeHelp>& table) {
    add(table, Severity::error,
        {{"byte-order-mark", "The file begins with a byte order mark. Save it as UTF-8 without one."},
         {"duplicate-key", "One object has the same key twice. Remove one, or rename it."},
         {"empty-file", "There is nothing in the file."},
         {"file-too-large", "The file is larger than a model may be."},
         {"json-syntax", "The file is not JSON at this place: a comma, bracket, colon or quote too many or missing."},
         {"not-utf-8", "The file is not UTF-8 text. Save it as UTF-8."},
         {"nul-byte", "The file contains a NUL byte, as binary files and UTF-16 do. Save it as UTF-8 text."},
         {"number-too-large", "A number has an exponent above 99 or below -99. Write it out, or use another unit."},
         {"too-deep", "Brackets are nested deeper than a model or an expression may be."},
         {"too-many-problems", "There are more problems than are listed. Fix some and try again."},
         {"too-many-values", "The file contains more values than a model may have."}});
}

void add_shape_codes(std::vector<CodeHelp>& table) {
    add(table, Severity::error,
        {{"bad-choice", "A text is not one of the words allowed there."},
         {"empty-list", "A list has nothing in it. Leave its key out."},
         {"idle-key", "This key has no effect here, or needs another key."},
         {"missing-key", "An object lacks a key that it needs."},
         {"no-kind", "An object has none of the keys that say what kind of thing it is."},
         {"one-controller", "A model has one controller with one scan period. Write one model for each controller."},
         {"needs-from", "\"reached_under\" is used in a procedure whose steps begin with the run."},
         {"short-window", "\"out_of\" is shorter than \"for\": the total could never be that long."},
         {"two-kinds", "An object has keys that make it two kinds of things at once."},
         {"unknown-key", "An object has a key that does not exist. See `lanyard help format`."},
         {"wrong-json-type",
          "A value is of the wrong kind: for example a bare number where a text with a unit is expected."},
         {"wrong-version", "The version of the format is not one that this program reads."}});
}

void add_rule_codes(std::vector<CodeHelp>& table) {
    add(table, Severity::error,
        {{"bad-pack-name", "The name of a rule pack's folder is not made of small letters, digits and hyphens."},
         {"bad-rule-name",
          "The name of a rule is not made of small letters, digits and hyphens, or is written without its pack."},
         {"role-kind", "What plays a role is of another kind than the role: a number, or something on or off."},
         {"unknown-parameter", "The rule has no parameter of that name."},
         {"unknown-role", "No rule pack has a role of that name. See `lanyard rules PACK`."},
         {"unknown-rule", "No rule pack has a rule of that name. See `lanyard rules PACK`."},
         {"unused-role", "A rule lists a role or a parameter that none of its claims uses."}});
}

void add_name_codes(std::vector<CodeHelp>& table) {
    add(table, Severity::error,
        {{"bad-claim-name", "The name of a claim is empty, too long, or contains control characters."},
         {"bad-model-name", "The name of the model is empty, too long, or contains control characters."},
         {"bad-name", "A name is not made of letters, digits and underscores, with a letter first, 64 at most."},
         {"duplicate-name", "Two things in the model have the same name."},
         {"load-name",
          "A load has the name of something else. It may share a name only with the output that feeds it."},
         {"look-alike-name", "A name contains a foreign letter that looks like a plain one. Type it again."},
         {"named-twice", "A list names the same thing twice."},
         {"non-ascii-name", "A name contains a letter with an accent or of another alphabet."},
         {"not-a-load", "The engine section names something that is not a load."},
         {"not-a-quantity", "A quantity is expected here, but the name is something else."},
         {"not-free", "The engine section calls a load free that something feeds, or that it does not need."},
         {"not-switched", "A load, an output or a relay is expected here, but the name is something else."},
         {"reserved-name", "The name is a word of the language: a unit, an operator, a block, an engine mode."},
         {"terminal-twice", "Two inputs or outputs have the same terminal."},
         {"unknown-condition", "There is no condition of that name."},
         {"unknown-output", "There is no output of that name."},
         {"unknown-quantity", "There is no quantity of that name. One of your own needs a range in \"quantities\"."},
         {"unknown-relay", "There is no relay of that name."},
         {"unknown-switch", "There is no hand switch of that name, and drivers only move switches."}});
}

void add_expression_codes(std::vector<CodeHelp>& table) {
    add(table, Severity::error,
        {{"absolute-temperature", "A temperature is used like a temperature difference: added, multiplied or negated."},
         {"ambiguous-temperature",
          "It is not clear whether a temperature or a difference is meant. Write differences in K."},
         {"bad-count", "A count is not a whole number within its limits."},
         {"bad-number", "A number is not written in a form that can be read here."},
         {"bad-time", "The time of a timer or rate is negative, zero or too long."},
         {"band-order", "The off point of a band() lies past its on point."},
         {"claims-only", "The arrow -> is allowed in claims and conditions only."},
         {"constant-needed", "A fixed number is expected here, not something that changes."},
         {"division-by-zero", "Something is divided by 0."},
         {"interval-order", "An interval ends below its beginning."},
         {"memory-here",
          "Timers, latches and other elements with memory are allowed in logic and claims, not in descriptions of the "
          "world."},
         {"no-engine", "Engine modes and times that count from them need an \"engine\" section."},
         {"not-ascii", "An expression contains a character that expressions do not use."},
         {"not-visible", "The name exists, but cannot be used here: the controller only sees its inputs."},
         {"pulse-zero", "A pulse of length 0 never comes on."},
         {"rate-too-long", "The time of a rate() is more scans than can be stored."},
         {"syntax-expression", "An expression is incomplete, or has something extra."},
         {"syntax-interval", "An interval is two numbers with two points between: 0.5 .. 2 s."},
         {"syntax-number", "A number with its unit is expected, and nothing else."},
         {"temperature-kind", "A temperature is used where a difference is expected, or the other way round."},
         {"text-too-long", "A text that lanyard has to read, such as an expression, is too long."},
         {"too-few-inputs", "A block has fewer inputs, or a list fewer entries, than it needs."},
         {"too-many-inputs", "A block has too many inputs."},
         {"unit-missing", "A number has no unit where it needs one."},
         {"unit-needed", "A number that depends on its own earlier value must say its \"unit\"."},
         {"unknown-element", "There is no block of that name."},
         {"unknown-name", "There is nothing of that name in the model."},
         {"unknown-table", "There is no table of that name."},
         {"unknown-unit", "There is no unit of that name. See `lanyard help units`."},
         {"wrong-type", "A Boolean is used where a number is expected, or the other way round."},
         {"wrong-unit", "The units do not match: a pressure with a temperature, for example."}});
}

void add_wiring_codes(std::vector<CodeHelp>& table) {
    add(table, Severity::error,
        {{"fed-by-wiring", "An output or relay feeds a load, or drives a coil, that is connected by wires."},
         {"no-circuit", "An input or output has a pin in the wiring, but the model has no \"circuit\"."},
         {"no-supply-wire", "An output supplies plus, but no wire goes to controller.plus, where the plus comes from."},
         {"no-voltage", "A relay asks for a voltage, but no battery names the quantity that is the voltage."},
         {"not-above-zero", "A current, a voltage or a drift must be above 0."},
         {"not-wired", "A path names something that has no wires, such as a quantity."},
         {"part-twice", "A part is in the middle of two paths. Connect further wires to its ends."},
         {"relay-voltages", "A relay drops out at a voltage at which it pulls in."},
         {"two-voltages", "Two batteries name two quantities as the voltage."},
         {"unknown-part", "A path names an end of a part that is not declared."},
         {"unknown-wire", "The list of wires in the engine space names a wire that does not exist."},
         {"which-end", "A path names a part without saying which of its ends, or an end that it does not have."},
         {"wire-size", "The size of a wire is neither in mm2 nor one of the usual AWG sizes."},
         {"wire-table",
          "In the wire table, a thicker wire may carry less than a thinner one, or a size appears twice."},
         {"wire-syntax", "A path is not in the right form: battery - F1 - bus."},
         {"wire-to-itself", "A wire goes from a place to the same place."}});
    add(table, Severity::warning,
        {{"loose-end", "A wire or a part has an end with nothing connected to it."},
         {"never-wired", "No wire goes to a part, or to a pin of the controller."}});
}

void add_fault_codes(std::vector<CodeHelp>& table) {
    add(table, Severity::error,
        {{"bad-probability", "A probability is not a number from 0 to 1."},
         {"fault-key", "A fault is given a value that has no meaning for its kind."},
         {"rate-and-probability", "A fault has a rate and a probability. Keep one."},
         {"rate-syntax", "A rate is a number per time: 2e-6 per h."},
         {"unknown-fault", "There is no fault of that name, or no part that can have it. See `lanyard help faults`."}});
}

void add_model_codes(std::vector<CodeHelp>& table) {
    add(table, Severity::error,
        {{"band-outside-range", "Values do not lie within the range of their quantity."},
         {"before-without-after", "\"before\" says what holds until \"after\"; that is missing."},
         {"condition-syntax", "A condition in a claim is not in the right form."},
         {"cycle", "Expressions depend on each other in a circle. Break it with previous() or a loop-back."},
         {"default-outside-range", "Common practice does not fit the range of a quantity. Give its healthy values."},
         {"duty-read-back", "A loop-back reads an output that is a duty."},
         {"empty-condition", "A condition is empty: it needs \"holds\", \"except\" or \"faults\"."},
         {"except-needs-healthy", "Only the condition healthy has values that an exception could replace."},
         {"feeds-and-relay", "An output drives a relay, feeds loads, or has a pin in the wiring: only one of these."},
         {"missing-range", "A quantity of your own has no range."},
         {"negative-accuracy", "An accuracy is negative."},
         {"negative-speed", "The catch speed is negative."},
         {"negative-time", "A time is negative."},
         {"procedure-without-time", "A procedure has only steps that take no time."},
         {"relay-twice", "Two outputs drive the same relay."},
         {"relay-without-output", "No output drives a relay."},
         {"scan-range", "The scan period is too short or too long."},
         {"speed-tie", "Range or healthy values of the engine's speed leave no 0, or nothing above 0."},
         {"step-syntax", "A step of a procedure is not in the right form."},
         {"table-not-rising", "The points of a table's axis do not rise."},
         {"table-shape", "A table has too few or too many cells, or too few or too many points."},
         {"time-too-long", "A time is longer than lanyard counts."},
         {"wrong-role", "A quantity cannot have a role in the engine section: it is of another kind."},
         {"zero-time", "A time is 0 where it must be above 0."}});
    add(table, Severity::warning,
        {{"constant-output", "An output never changes, whatever happens."},
         {"free-load", "The engine needs a load that nothing feeds: it may have power or not at any scan."},
         {"never-changes", "A comparison is always true or always false: its threshold lies outside what can happen."},
         {"timer-below-scan", "A timer is shorter than a scan."},
         {"unread-input", "Nothing reads an input."}});
}

std::vector<CodeHelp> make_codes() {
    std::vector<CodeHelp> table;
    add_file_codes(table);
    add_shape_codes(table);
    add_name_codes(table);
    add_rule_codes(table);
    add_expression_codes(table);
    add_model_codes(table);
    add_wiring_codes(table);
    add_fault_codes(table);
    return table;
}

}  // namespace

const std::vector<CodeHelp>& code_table() {
    static const std::vector<CodeHelp> table = make_codes();
    return table;
}

const std::vector<LimitHelp>& limit_table() {
    static const std::vector<LimitHelp> table = {
        {"size of a model file", "64 MB"},
        {"values in a model file", "2000000"},
        {"depth of brackets in a model file", "64"},
        {"length of an expression or another text that is read", "100000 bytes"},
        {"length of a name", "64 characters"},
        {"length of a claim's name", "120 characters"},
        {"length of the model's name", "200 bytes"},
        {"scan period", "0.01 ms .. 60 s"},
        {"times", "1000000 s"},
        {"time of a rate()", "200 scans"},
        {"points along the axis of a table", "2 .. 256"},
        {"poles of a switch in the wiring", "12"},
        {"terminals of a connector", "200"},
        {"problems listed", "1000"},
    };
    return table;
}

}  // namespace lanyard::model
