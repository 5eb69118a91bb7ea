#include "lang/words.hpp"

#include <catch2/catch.hpp>
#include <set>

#include "car.hpp"

using namespace lanyard::lang;
using namespace lanyard::test;

TEST_CASE("every word has its help, once") {
    std::set<std::string> words;
    for (const WordHelp& w : element_table()) {
        INFO(w.word);
        CHECK(words.insert(w.word).second);
        CHECK_FALSE(w.meaning.empty());
        CHECK(w.form.find(w.word) != std::string::npos);
        CHECK(find_word(w.word) == &w);
    }
}

TEST_CASE("the examples of the help compile") {
    class Everything : public Car {
     public:
        std::optional<Symbol> find(const std::string& name) const override {
            static const std::set<std::string> on_off{"low", "stop", "reset", "a", "b", "c", "up", "down", "powered"};
            if (on_off.count(name)) return Symbol{Op::signal, SignalId(0), Type::boolean()};
            if (name == "oil_v") return Symbol{Op::signal, SignalId(0), Type::number(dimension("V"), true)};
            return Car::find(name);
        }
        std::optional<TableShape> find_table(const std::string& name) const override {
            if (name != "fan_map") return std::nullopt;
            return TableShape{TableId(0), {type_of("coolant"), type_of("speed")}, type_of("fan")};
        }
    };
    for (const WordHelp& w : element_table()) {
        INFO(w.form);
        Everything car;
        CHECK(compile_in(car, w.form).messages.empty());
    }
}

TEST_CASE("every operator has a word") {
    for (std::size_t i = 0; i < operator_table.size(); ++i) CHECK(row_of(static_cast<Op>(i)).op == static_cast<Op>(i));
    CHECK(std::string(op_word(Op::ton)) == "TON");
    CHECK(std::string(op_word(Op::and_)) == "AND");
    CHECK(std::string(op_word(Op::le)) == "<=");
    CHECK(std::string(op_word(Op::neg)) == "-");
    CHECK(std::string(op_word(Op::vote)) == "of");
    CHECK(std::string(op_word(Op::implies)) == "->");
}

TEST_CASE("what has memory") {
    CHECK(has_memory(Op::ton));
    CHECK(has_memory(Op::band));
    CHECK(has_memory(Op::previous));
    CHECK_FALSE(has_memory(Op::vote));
    CHECK_FALSE(has_memory(Op::last));
}

TEST_CASE("reserved words") {
    for (const char* word :
         {"AND", "and", "Or",      "TON",     "ton",    "TRUE",    "true", "band", "rate", "previous", "table", "of",
          "on",  "off", "running", "stopped", "engine", "powered", "psi",  "V",    "s",    "degC",     "rpm"}) {
        INFO(word);
        CHECK(is_reserved(word));
    }
    for (const char* word : {"oil", "key", "v", "S1", "Band", "Running", "PSI", "a", "b", "on_off", "any"}) {
        INFO(word);
        CHECK_FALSE(is_reserved(word));
    }
}

TEST_CASE("names") {
    for (const char* name : {"a", "oil", "Oil_2", "x9"}) CHECK(is_name(name));
    CHECK(is_name(std::string(64, 'a')));
    CHECK_FALSE(is_name(std::string(65, 'a')));
    for (const char* name : {"", "_a", "9a", "oil pressure", "oil-pressure", "\xC3\xB6l", "a.b"})
        CHECK_FALSE(is_name(name));
}

TEST_CASE("modes have the names of the standard words") {
    CHECK(std::string(mode_name(Mode::stopped)) == "stopped");
    CHECK(std::string(mode_name(Mode::coasting)) == "coasting");
    CHECK(find_word("cranking")->mode == Mode::cranking);
    CHECK(find_word("running")->mode == Mode::running);
}
