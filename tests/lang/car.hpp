// A small car for tests of expressions: names with their types, as a model would give them.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "../ids.hpp"
#include "lang/compile.hpp"

namespace lanyard::test {

using namespace lang;

enum class View {
    logic,      // what the controller may say
    claims,     // may say everything, `->` and the engine's mode too
    no_engine,  // claims of a model without an engine
};

class Car : public Scope {
 public:
    explicit Car(View view = View::claims);

    std::optional<Symbol> find(const std::string& name) const override;
    std::optional<Refusal> refusal(const std::string& name) const override;
    std::vector<std::string> names() const override;
    std::optional<TableShape> find_table(const std::string& name) const override;
    std::vector<std::string> table_names() const override;
    bool allows_implication() const override { return view_ != View::logic; }
    bool has_engine() const override { return view_ != View::no_engine; }
    ElementId new_element(Op op) override;

    std::string name_of(SignalId signal) const { return signals_.at(signal).name; }
    std::string table_name(TableId table) const { return tables_.at(table).name; }
    Type type_of(const std::string& name) const { return find(name).value().type; }
    std::vector<std::string> names_of(const Type& type) const;
    const std::vector<Op>& elements() const { return elements_.values(); }

 private:
    struct NamedSignal {
        std::string name;
        Type type;
    };
    struct NamedTable {
        std::string name;
        std::vector<Type> axes;
        Type value;
    };
    View view_;
    Indexed<model::Signal, NamedSignal> signals_;
    Indexed<model::Table, NamedTable> tables_;
    Indexed<model::Element, Op> elements_;
};

Dimension dimension(const std::string& unit);
LocatedText located(const std::string& text);

// Compiles; the messages, rendered, are in `messages`.
struct Compiled {
    ExprPtr expr;
    std::string messages;
    std::vector<Diagnostic> list;
};
Compiled compile_in(Car& car, const std::string& text, std::optional<Type> wanted = std::nullopt);

// The same tree? Places and the words of constants do not count; element numbers must correspond one to one.
bool same_tree(const ExprPtr& a, const ExprPtr& b);

// A tree in full parentheses: "(or a (and b (lt oil 103421.4)))".
std::string shape(const Expr& e, const Car& car);

}  // namespace lanyard::test
