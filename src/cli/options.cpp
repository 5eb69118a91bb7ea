#include "cli/options.hpp"

#include <lanyard/tables.hpp>

namespace lanyard::cli {

namespace {

OptionRow option(const char* name, Takes takes, const char* value, const char* meaning) {
    return {name, takes, value, {}, false, false, meaning, false};
}
OptionRow required(const char* name, Takes takes, const char* value, const char* meaning) {
    return {name, takes, value, {}, true, false, meaning, false};
}
OptionRow repeatable(const char* name, Takes takes, const char* value, const char* meaning) {
    return {name, takes, value, {}, false, true, meaning, false};
}
OptionRow input(OptionRow row) {
    row.reads = true;
    return row;
}
OptionRow formerly(const char* name, OptionRow row) {
    row.formerly = name;
    return row;
}
OptionRow flag(const char* name, const char* meaning) { return option(name, Takes::nothing, "", meaning); }

OptionRow model_row() {
    return input(required("MODEL", Takes::file, "MODEL", "The model file (lanyard help format)."));
}

// Of every command that judges.
void add_log(CommandRow& row) {
    row.options.push_back(option("--log", Takes::file, "FILE",
                                 "Write what the provers do into this file as they do it (lanyard help log). "
                                 "Without this option, the environment variable LANYARD_LOG names the file."));
    row.options.push_back({"--log-level",
                           Takes::choice,
                           "LEVEL",
                           {"info", "debug", "trace"},
                           false,
                           false,
                           "How much to write: info (claims and answers), debug (the default; also rounds, lemmas "
                           "and checks) or trace (also every query)."});
}

// Of every command that writes a table for spreadsheets.
OptionRow csv_separator() {
    return {"--csv-separator",
            Takes::choice,
            "SEPARATOR",
            {"comma", "semicolon"},
            false,
            false,
            "How to write CSV. comma, the default: as in RFC 4180. semicolon: for spreadsheets of countries with a "
            "decimal comma; semicolons, a comma in numbers, a byte order mark. Both are read."};
}

OptionRow color() {
    return {"--color",
            Takes::choice,
            "WHEN",
            {"auto", "always", "never"},
            false,
            false,
            "Colour the verdicts. auto, the default, does so on a terminal unless NO_COLOR is set. Colour never "
            "carries information of its own."};
}

// Of every command that can be shared among machines: which share, and the file of its answers.
void add_share(CommandRow& row, const char* what) {
    row.options.push_back(option("--shard", Takes::text, "I/N", what));
    row.options.push_back(option("--part", Takes::file, "FILE",
                                 "With --shard: the file that keeps what this share found out. A share that was "
                                 "interrupted goes on from there."));
}

// Of every command that asks about claim after claim.
OptionRow progress_flag(const char* meaning = "As for check.") { return flag("--progress", meaning); }

// The limits of check, of a command that is not check.
void add_limits(CommandRow& row, const char* work = "As for check.", const char* units = "N") {
    row.options.push_back(option("--jobs", Takes::count, "N", "As for check."));
    row.options.push_back(option("--time", Takes::seconds, "S", "As for check."));
    row.options.push_back(option("--work", Takes::count, units, work));
    row.options.push_back(option("--memory", Takes::count, "MB", "As for check."));
    add_log(row);
}

// What a command that judges and writes takes in addition.
void add_judging(CommandRow& row) {
    row.options.push_back(option("--evidence", Takes::folder, "DIR", "As for check."));
    row.options.push_back(option("--keep", Takes::file, "FILE", "As for check."));
    row.options.push_back(flag("--fresh", "As for check."));
    row.options.push_back(repeatable("--rules", Takes::text, "PACK", "As for check."));
    add_limits(row);
    row.options.push_back(progress_flag());
}

CommandRow check_row() {
    CommandRow row;
    row.name = "check";
    row.meaning = "Judge the claims of a model.";
    row.more =
        "Prints one line for each claim: verdict, name, condition, and what the verdict rests on; then the story of "
        "every refutation. Times are shown on a terminal only, so that the text of two checks can be compared.";
    row.options = {
        model_row(),
        repeatable("--claim", Takes::text, "ID",
                   "Judge this claim only. May be given more than once; without it all claims are judged."),
        repeatable(
            "--rules", Takes::text, "PACK",
            "Judge the rules of this pack too: one of lanyard's own, a folder that holds a pack.json, or several "
            "separated by commas (lanyard help rules)."),
        flag("--rules-only", "With --rules: leave the model's own claims out."),
        flag("--examples", "For each proved claim, show a run that exercises it."),
        option("--counterexamples", Takes::count, "N",
               "Show up to N counterexamples with different causes; the default is 1 (lanyard help why)."),
        option("--json", Takes::file, "FILE",
               "Write the results as JSON too (lanyard schema result). Not written when the check was interrupted."),
        option("--junit", Takes::file, "FILE", "Write the verdicts as a JUnit report too (lanyard help outputs)."),
        option("--sarif", Takes::file, "FILE",
               "Write as SARIF 2.1.0 too: what does not hold, with its place and its story, and what was found in the "
               "wiring."),
        option("--csv", Takes::file, "FILE", "Write the verdicts as a table too, one line for each claim."),
        csv_separator(),
        option("--vcd", Takes::folder, "DIR",
               "Write the run of each refutation as a value change dump, for waveform viewers, into this folder."),
        option("--evidence", Takes::folder, "DIR",
               "Write the evidence for each verdict, one folder for each claim (lanyard help evidence)."),
        option(
            "--keep", Takes::file, "FILE",
            "Keep results in this file, and look there first: what was found before, also for the model as it was "
            "before an edit, is checked again instead of searched for. Without this option, the environment variable "
            "LANYARD_KEEP names a folder with a file for each model (lanyard help limits)."),
        flag("--fresh", "With --keep: search for everything anew, and replace what the file has."),
        formerly("--engine",
                 option("--prover", Takes::text, "NAME",
                        "Search with this prover only; the default is all of them (lanyard help limits lists them).")),
        option("--jobs", Takes::count, "N",
               "Threads to use; the default is one for each processor. Verdicts and texts do not depend on it."),
        option(
            "--time", Takes::seconds, "S",
            "Stop after S seconds. Claims not decided by then are undecided. Each claim gets a short turn first, those "
            "that need more come after that. Depends on the machine: prefer --work where results are compared."),
        option("--work", Takes::count, "N",
               "Spend at most N units of work on each claim. Ends at the same point on every machine."),
        option("--memory", Takes::count, "MB", "Use at most this many megabytes."),
        progress_flag("Write how far it is to standard error now and then, one line each time, where that is no "
                      "terminal. The time left is a guess from what has been decided so far."),
        color(),
    };
    add_share(row,
              "Judge only every N-th claim, from the I-th on: one of N shares that may run on many machines. lanyard "
              "merge makes one result of them (lanyard help merge).");
    add_log(row);
    row.examples = {"lanyard check car.json", "lanyard check car.json --claim \"oil cut\" --evidence out",
                    "lanyard check car.json --json verdicts.json --work 2000",
                    "lanyard check car.json --junit verdicts.xml --sarif verdicts.sarif --vcd runs",
                    "lanyard check boat.json --rules small-boats,./club-rules"};
    return row;
}

CommandRow case_row() {
    CommandRow row;
    row.name = "case";
    row.meaning = "Judge a model and print its safety case.";
    row.more =
        "The safety case in Goal Structuring Notation: goals, and for each the evidence with its hash, the context, "
        "the assumptions and their justification. What is refuted, undecided or not judged is shown as such (lanyard "
        "help case).";
    row.options = {
        model_row(),
        option("--out", Takes::file, "FILE", "Write to this file instead of the terminal."),
        option("--dot", Takes::file, "FILE", "Write the argument as a graph for Graphviz too."),
        option("--record", Takes::file, "FILE",
               "Write a record of the check too, to be printed and signed: what was checked, what was not, what to "
               "inspect."),
    };
    add_judging(row);
    row.examples = {"lanyard case car.json",
                    "lanyard case car.json --rules circuit-cars --dot case.dot --record sign.txt"};
    return row;
}

CommandRow report_row() {
    CommandRow row;
    row.name = "report";
    row.meaning = "Judge a model and write a report to hand on.";
    row.more =
        "Writes report.html, one file that needs no network: verdicts, runs to play, the wiring, what proofs rest on, "
        "what to measure, the safety case. Beside it the bench-test card, and the results for other programs (lanyard "
        "help report).";
    row.options = {
        model_row(),
        required("--out", Takes::folder, "DIR",
                 "The folder to write; created if it does not exist. One that holds anything else is refused (lanyard "
                 "help outputs)."),
        flag("--faults",
             "Find out too which single faults make which claims fail, as lanyard faults does. Takes a while."),
        option("--counterexamples", Takes::count, "N", "As for check."),
        csv_separator(),
    };
    add_judging(row);
    row.examples = {"lanyard report car.json --out car-report",
                    "lanyard report car.json --out car-report --rules circuit-cars --faults"};
    return row;
}

CommandRow card_row() {
    CommandRow row;
    row.name = "card";
    row.meaning = "Print the bench-test card, or check one that was filled in.";
    row.more =
        "The tests that show whether a car is wired and programmed as its model says: each condition of each decision "
        "acting on its own, each threshold, each delay, each reset, with every expected value from the interpreter "
        "(lanyard help card).";
    row.options = {
        model_row(),
        {"--format",
         Takes::choice,
         "FORMAT",
         {"text", "csv", "html"},
         false,
         false,
         "How to write the card; the default is text. csv is to be filled in, html to be printed."},
        csv_separator(),
        option("--out", Takes::file, "FILE", "Write to this file instead of the terminal."),
        input(option(
            "--check", Takes::file, "FILLED.csv",
            "Check a card of this model that was filled in: which readings disagree, and which claims' verdicts are "
            "then no longer valid for this car.")),
    };
    add_limits(row, "As for check, but for each combination that is asked about.");
    row.examples = {"lanyard card car.json --format csv --out card.csv", "lanyard card car.json --check card.csv"};
    return row;
}

CommandRow graph_row() {
    CommandRow row;
    row.name = "graph";
    row.meaning = "Draw what feeds what in a model, for Graphviz.";
    row.more = "Judges nothing. A dashed line is read a scan later; the wiring is one node.";
    row.options = {
        model_row(),
        option("--claim", Takes::text, "ID", "Only what can affect this claim."),
        repeatable("--rules", Takes::text, "PACK", "As for check: the claims of this rule pack's rules too."),
        option("--out", Takes::file, "FILE", "Write to this file instead of the terminal."),
    };
    row.examples = {"lanyard graph car.json --out car.dot"};
    return row;
}

CommandRow claims_row() {
    CommandRow row;
    row.name = "claims";
    row.meaning = "Show what the claims of a model mean.";
    row.more =
        "For each claim: its name, how the file writes it, and the basic claim that it stands for, with all "
        "expressions. A claim in a word of the trade (lanyard help words) is written out. Judges nothing.";
    row.options = {
        model_row(),
        repeatable("--claim", Takes::text, "ID", "Show this claim only. May be given more than once."),
        option("--out", Takes::file, "FILE", "Write to this file instead of the terminal."),
    };
    row.examples = {"lanyard claims car.json", "lanyard claims car.json --claim \"oil cut\""};
    return row;
}

CommandRow faults_row() {
    CommandRow row;
    row.name = "faults";
    row.meaning = "Show which broken wires, welded relays and other faults make which claims fail.";
    row.more =
        "For each claim that holds without a fault: the single faults that make it fail and, with --order, the "
        "smallest "
        "sets that do so together; and whether it is proved that there are no others. A fault may begin at any scan, "
        "and then stays (lanyard help faults lists the kinds).";
    row.options = {
        model_row(),
        repeatable("--claim", Takes::text, "ID", "Ask about this claim only. May be given more than once."),
        option("--order", Takes::count, "N", "Look for sets of up to N faults, 1 to 6; the default is 1."),
        flag("--from-the-start",
             "Faults are present from the first scan on or never, instead of beginning at any scan."),
        flag("--stories", "Show a run for each set."),
        option("--json", Takes::file, "FILE", "Write everything as JSON too, runs and certificates included."),
        option("--csv", Takes::file, "FILE", "Write a table of failure modes, one line for each fault."),
        csv_separator(),
        option("--mef", Takes::file, "FILE", "Write the sets of one claim as an Open-PSA fault tree."),
        repeatable("--rules", Takes::text, "PACK", "As for check: ask about the rules of this pack too."),
    };
    add_limits(row, "As for check, but for each question.", "UNITS");
    add_share(row, "As for check: every N-th claim.");
    row.options.push_back(progress_flag());
    row.examples = {"lanyard faults car.json", "lanyard faults car.json --order 2 --claim \"oil cut\" --stories"};
    return row;
}

CommandRow findings_row() {
    CommandRow row;
    row.name = "findings";
    row.meaning = "Check the wiring of a model for mistakes.";
    row.more =
        "Fuses and wires that do not match, loads that nothing feeds, parts that no claim depends on (lanyard help "
        "findings). check prints the same after the verdicts. Judges no claim.";
    row.options = {
        model_row(),
        repeatable("--rules", Takes::text, "PACK", "As for check: the claims of this rule pack's rules count."),
        option("--out", Takes::file, "FILE", "Write to this file instead of the terminal."),
    };
    row.examples = {"lanyard findings car.json"};
    return row;
}

CommandRow mutants_row() {
    CommandRow row;
    row.name = "mutants";
    row.meaning = "Show which small changes in the logic no claim would notice.";
    row.more =
        "Makes mistakes in the logic, one at a time - stuck, negated, left out, a threshold moved, a timer gone - and "
        "judges the proved claims for each. A mistake that survives shows a weakness of the claims (lanyard help "
        "mutants).";
    row.options = {
        model_row(),
        repeatable("--claim", Takes::text, "ID", "Let only this claim judge. May be given more than once."),
        option("--json", Takes::file, "FILE", "Write every mutant and its outcome as JSON too."),
        repeatable("--rules", Takes::text, "PACK", "As for check: the claims of this rule pack's rules too."),
    };
    add_limits(row, "Units of work for each question about a mutant.");
    add_share(row, "As for check, but every N-th mutant.");
    row.options.push_back(progress_flag());
    row.examples = {"lanyard mutants car.json", "lanyard mutants car.json --claim \"oil cut\" --work 1000000"};
    return row;
}

CommandRow needs_row() {
    CommandRow row;
    row.name = "needs";
    row.meaning = "Show which assumptions the proofs cannot do without.";
    row.more =
        "Takes away one assumption after the other - a healthy engine, a condition, a rate, a sensor's accuracy - and "
        "judges the proved claims again: which assumptions each needs, and which it holds without (lanyard help "
        "needs).";
    row.options = {
        model_row(),
        repeatable("--claim", Takes::text, "ID", "Ask about this claim only. May be given more than once."),
        option("--json", Takes::file, "FILE", "Write the same as JSON too."),
        repeatable("--rules", Takes::text, "PACK", "As for check: the claims of this rule pack's rules too."),
    };
    add_limits(row, "Units of work for each question.");
    row.options.push_back(progress_flag());
    row.examples = {"lanyard needs car.json --claim \"oil cut\""};
    return row;
}

// What it does not take and the command of its parts does is what a part records (merge_command.cpp).
CommandRow merge_row() {
    CommandRow row;
    row.name = "merge";
    row.meaning = "Make one result of the parts that the shares of a command wrote.";
    row.more =
        "Does what check, faults or mutants does without --shard, with the same options: the same text and files. The "
        "answers in the parts are checked instead of searched for; none of them is trusted (lanyard help merge).";
    row.options = {
        input(repeatable("PART", Takes::file, "PART", "The parts of all shares, in any order.")),
        option("--json", Takes::file, "FILE", "As for the command of the parts."),
        option("--junit", Takes::file, "FILE", "As for check."),
        option("--sarif", Takes::file, "FILE", "As for check."),
        option("--csv", Takes::file, "FILE", "As for check or faults."),
        csv_separator(),
        option("--mef", Takes::file, "FILE", "As for faults."),
        option("--vcd", Takes::folder, "DIR", "As for check."),
        option("--evidence", Takes::folder, "DIR", "As for check."),
        option("--keep", Takes::file, "FILE", "As for check. Keeps the answers of the parts too."),
        flag("--fresh", "As for check."),
        option("--jobs", Takes::count, "N", "As for check."),
        option("--time", Takes::seconds, "S", "As for check."),
        option("--memory", Takes::count, "MB", "As for check."),
        progress_flag(),
        color(),
    };
    row.options.front().required = true;
    add_log(row);
    row.examples = {"lanyard merge part-*.json", "lanyard merge part-1.json part-2.json --json verdicts.json"};
    return row;
}

CommandRow run_row() {
    CommandRow row;
    row.name = "run";
    row.meaning = "Play a script of switch and sensor changes, scan by scan.";
    row.more =
        "Shows what the logic does with the inputs that you give it: no proof, no search, just the model running.";
    row.options = {
        model_row(),
        input(required("--script", Takes::file, "FILE", "What changes when (lanyard help script).")),
        {"--format",
         Takes::choice,
         "FORMAT",
         {"table", "csv", "vcd"},
         false,
         false,
         "How to print the signals that changed; the default is table. vcd is for waveform viewers."},
        csv_separator(),
        option("--out", Takes::file, "FILE", "Write to this file instead of the terminal."),
    };
    row.examples = {"lanyard run car.json --script start.csv",
                    "lanyard run car.json --script start.json --format vcd --out start.vcd"};
    return row;
}

CommandRow why_row() {
    CommandRow row;
    row.name = "why";
    row.meaning = "Show why a signal is on or off at one moment of a run, and what changed first.";
    row.more =
        "Follows the chain from a load, output or any other signal back to what holds it where it is, and how it got "
        "there, each link with its time; the end shows what changed first (lanyard help why).";
    row.options = {
        model_row(),
        required("SIGNAL", Takes::text, "SIGNAL", "The signal to explain: a load, an output, a relay, engine."),
        option("--at", Takes::text, "TIME", "The moment, such as \"2.3 s\"; without it, the run's end."),
        input(option("--run", Takes::file, "RUN",
                     "The run: a script as for lanyard run, run.json of an evidence folder, or what check --json "
                     "writes.")),
        option("--claim", Takes::text, "ID",
               "Take the run of this claim from the file; without --run the claim is judged to get one."),
        repeatable("--rules", Takes::text, "PACK", "As for check: the claims of this rule pack's rules too."),
        option("--json", Takes::file, "FILE", "Write the same as JSON too."),
    };
    add_limits(row);
    row.examples = {"lanyard why car.json injectors --run start.csv --at 2.3s",
                    "lanyard why car.json injectors --claim \"it starts\""};
    return row;
}

CommandRow schema_row() {
    CommandRow row;
    row.name = "schema";
    row.meaning = "Print the JSON Schema of the model file, of a rule pack or of results.";
    row.more = "An editor that has the schema completes keys and marks mistakes while you write.";
    std::vector<std::string> names;
    std::string meaning;
    for (const api::SchemaRow& schema : api::schema_table()) {
        names.push_back(schema.name);
        meaning += (meaning.empty() ? "" : " ") + schema.name + ": " + schema.meaning + ".";
    }
    row.options = {{"WHICH", Takes::choice, "WHICH", names, true, false, meaning}};
    row.examples = {"lanyard schema model > lanyard.schema.json"};
    return row;
}

CommandRow export_row() {
    CommandRow row;
    row.name = "export";
    row.meaning = "Write the question that a claim asks in a form that other solvers read.";
    row.more = "horn: Horn clauses in SMT-LIB 2.6. The answer unsat says that the bad state can be reached.";
    row.options = {
        model_row(),
        required("--claim", Takes::text, "ID", "The claim."),
        repeatable("--rules", Takes::text, "PACK", "As for check: the claims of this rule pack's rules too."),
        {"--export", Takes::choice, "FORM", {"horn"}, false, false, "The form; the default is horn."},
        option("--out", Takes::file, "FILE", "Write to this file instead of the terminal."),
    };
    row.examples = {"lanyard export car.json --claim \"oil cut\" --export horn --out oil-cut.smt2"};
    return row;
}

CommandRow rules_row() {
    CommandRow row;
    row.name = "rules";
    row.meaning = "List the rule packs, or explain the rules of one.";
    row.more = "A rule pack holds requirements for vehicles. check --rules judges a model by it (lanyard help rules).";
    row.options = {option("PACK", Takes::text, "PACK",
                          "One of the packs, or a folder that holds a pack.json; without it, the list.")};
    row.examples = {"lanyard rules", "lanyard rules small-boats"};
    return row;
}

CommandRow help_row() {
    CommandRow row;
    row.name = "help";
    row.meaning = "Explain a command or a topic.";
    row.options = {option("TOPIC", Takes::topic, "TOPIC", "A command or a topic; without it, the list.")};
    row.examples = {"lanyard help meaning"};
    return row;
}

CommandRow completion_row() {
    CommandRow row;
    row.name = "completion";
    row.meaning = "Print the script with which a shell completes commands and options.";
    row.options = {{"SHELL", Takes::choice, "SHELL", {"bash"}, true, false, "The shell."}};
    row.examples = {"source <(lanyard completion bash)"};
    return row;
}

}  // namespace

const std::vector<CommandRow>& command_table() {
    static const std::vector<CommandRow> rows{check_row(),    case_row(),  card_row(),      claims_row(),  faults_row(),
                                              findings_row(), graph_row(), report_row(),    mutants_row(), merge_row(),
                                              needs_row(),    run_row(),   why_row(),       rules_row(),   schema_row(),
                                              export_row(),   help_row(),  completion_row()};
    return rows;
}

const CommandRow* find_command(const std::string& name) {
    for (const CommandRow& row : command_table())
        if (row.name == name) return &row;
    return nullptr;
}

std::vector<std::string> usage_words(const CommandRow& command) {
    std::vector<std::string> words;
    for (const OptionRow& option : command.options) {
        std::string word = option.name;
        if (option.positional() && !option.choices.empty()) {
            word.clear();
            for (const std::string& choice : option.choices) word += (word.empty() ? "" : "|") + choice;
        }
        if (!option.positional() && option.takes != Takes::nothing) word += " " + option.value;
        if (!option.required) word = "[" + word + "]";
        words.push_back(word + (option.repeatable ? "..." : ""));
    }
    return words;
}

std::string usage_line(const CommandRow& command) {
    std::string line = "lanyard " + command.name;
    for (const std::string& word : usage_words(command)) line += " " + word;
    return line;
}

}  // namespace lanyard::cli
