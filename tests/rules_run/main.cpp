// test_rules pack FOLDER      a rule pack and the twins of its rules
// test_rules together RULES   the packs of a folder side by side
// test_rules self-test        that this program notices what it is there to notice
#include <iostream>

#include "../scratch.hpp"
#include "pack_check.hpp"

namespace fs = std::filesystem;
using namespace lanyard::test;

namespace {

std::string in_double_quotes(std::string text) {
    for (char& c : text)
        if (c == '\'') c = '"';
    return text;
}

// A folder with one pack that is as it should be.
class Yard : public Scratch {
 public:
    Yard() : Scratch("rules") {
        write("yard/pack.json", pack());
        write("yard/pump-off.satisfies.json", model("key"));
        write("yard/pump-off.violates.json", model("key OR hand"));
    }
    static std::string pack(const std::string& citation = "section 1", const std::string& more = "",
                            const std::string& kind = "load") {
        return in_double_quotes(
            "{'lanyard_rules': 1, 'title': 'Yard', 'publisher': 'the yard', 'edition': '1', 'text_read': 'none', "
            "'scope': 'all', 'roles': {'ignition': {'kind': 'expression', 'meaning': 'it is on'}, 'pump': {'kind': '" +
            kind +
            "', 'meaning': 'the pump'}}, 'rules': {'pump-off': {'requires': 'the pump stops', 'roles': ['ignition', "
            "'pump'], 'advice': 'wire it so', 'claims': {'off': {'always': 'NOT ignition -> NOT pump'}}" +
            more + ", 'citation': '" + citation + "'}}}");
    }
    static std::string model(const std::string& on, const std::string& roles = "'ignition': 'key', 'pump': 'lift'") {
        return in_double_quotes(
            "{'lanyard': 1, 'name': 'm', 'inputs': {'key': 'maintained', 'hand': 'maintained'}, "
            "'outputs': {'lift': '" +
            on + "'}, 'roles': {" + roles + "}}");
    }
};

bool mentions(const std::vector<std::string>& problems, const std::string& text) {
    for (const auto& p : problems)
        if (p.find(text) != std::string::npos) return true;
    std::cout << "not noticed: " << text << '\n';
    for (const auto& p : problems) std::cout << "  " << p << '\n';
    return false;
}

bool pack_is_noticed(const std::string& file, const std::string& text, const std::string& what) {
    const Yard s;
    if (text.empty())
        fs::remove(s.path / file);
    else
        s.write(file, text);
    return mentions(check_pack(s.path / "yard"), what);
}

bool together_is_noticed(const std::string& second, const std::string& what) {
    const Yard s;
    s.write("wharf/pack.json", second);
    return mentions(check_together(s.path), what);
}

int self_test() {
    bool good = true;
    {
        const Yard s;
        for (const auto& p : check_pack(s.path / "yard")) {
            std::cout << p << '\n';
            good = false;
        }
        good = check_together(s.path).empty() && good;
    }
    const std::string satisfies = "yard/pump-off.satisfies.json";
    const std::string violates = "yard/pump-off.violates.json";
    good = pack_is_noticed(satisfies, Yard::model("key OR hand"), "'yard/pump-off: off' is refuted") && good;
    good = pack_is_noticed(violates, Yard::model("key"), "no claim of the rule is refuted") && good;
    good = pack_is_noticed(violates, "", "there is no such file") && good;
    good = pack_is_noticed(satisfies, Yard::model("key", "'pump': 'lift'"), "nothing plays ignition") && good;
    good = pack_is_noticed(satisfies, "nonsense", "rejected") && good;
    good = pack_is_noticed("yard/pump-of.violates.json", "{}", "belongs to no rule") && good;
    good = pack_is_noticed("yard/pack.json", Yard::pack(" "), "no citation") && good;
    good = pack_is_noticed("yard/pack.json", "{}", "missing-key") && good;
    good = together_is_noticed(Yard::pack("1", "", "output"), "role 'pump' is of one kind in") && good;
    good = together_is_noticed(Yard::pack("1", ", 'conflicts_with': {'yard/pump-on': 'no'}"),
                               "conflicts with 'yard/pump-on'") &&
           good;
    return good ? 0 : 1;
}

}  // namespace

int main(int argc, char** argv) {
    const std::vector<std::string> words(argv + 1, argv + argc);
    if (words == std::vector<std::string>{"self-test"}) return self_test();
    if (words.size() != 2 || (words[0] != "pack" && words[0] != "together")) return 2;
    const auto problems = words[0] == "pack" ? check_pack(words[1]) : check_together(words[1]);
    for (const auto& p : problems) std::cout << "WRONG: " << p << '\n';
    return problems.empty() ? 0 : 1;
}
