// Text -> typed expression. The grammar is that of IEC 61131-3 Structured Text expressions where it has one; what is
// ours besides: units behind numbers, band(), `m of (a, b, c)`, rate(), table(), previous(), `->`, `engine = running`.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.hpp"
#include "lang/expr.hpp"

namespace lanyard::lang {

// A piece of text of the model file. Where the JSON string holds escapes, positions inside it are not exact and every
// message points at its beginning.
struct LocatedText {
    std::string text;
    Place place;           // of the text's first character
    bool escaped = false;  //
    std::string pointer;   // JSON pointer of the string
};

// What a name stands for in one kind of expression.
struct Symbol {
    Op op = Op::signal;  // signal or last
    SignalId signal;
    Type type;
    std::vector<SignalId> more = {};  // the name stands for several that are on or off: it is on while any of them is
};

struct TableShape {
    TableId id;
    std::vector<Type> axes;  // one or two
    Type value;
};

// Who may say what: logic sees what the controller sees, claims see the world as well.
class Scope {
 public:
    virtual ~Scope() = default;
    virtual std::optional<Symbol> find(const std::string& name) const = 0;
    // Why a name that exists elsewhere in the model cannot be used here, with a hint; empty if it is unknown.
    struct Refusal {
        std::string why;
        std::string hint;
    };
    virtual std::optional<Refusal> refusal(const std::string& name) const = 0;
    virtual std::vector<std::string> names() const = 0;  // for "did you mean"
    virtual std::optional<TableShape> find_table(const std::string& name) const = 0;
    virtual std::vector<std::string> table_names() const = 0;
    virtual bool allows_implication() const = 0;
    virtual bool has_engine() const = 0;
    // A new memory element; its number goes into the expression.
    virtual ElementId new_element(Op op) = 0;
};

// The type that the place wants; nothing = any type is welcome. Errors go to `out`; the answer is then null.
// All problems of the text that can be found independently are reported.
ExprPtr compile(const LocatedText& text, Scope& scope, std::optional<Type> wanted, Diagnostics& out);

// "10 ms", "0.5 .. 2 s", "-40 .. 150 degC", "15 psi .. 2 bar": numbers with a unit, as values and intervals.
struct NumberWithUnit {
    Rational si;
    Unit unit;
    std::string written;
};
struct Interval {
    Rational lo;
    Rational hi;  // lo <= hi
    friend bool operator==(const Interval&, const Interval&) = default;
};
// `what_for` names the value in messages ("the scan period"). `difference`: accuracy, rates.
std::optional<NumberWithUnit> compile_number(const LocatedText& text, const Dimension& wanted, bool difference,
                                             const std::string& what_for, Diagnostics& out);
std::optional<Interval> compile_interval(const LocatedText& text, const Dimension& wanted, bool difference,
                                         const std::string& what_for, Diagnostics& out);
// The same when the dimension is not known yet: tells the unit (quantities of the user's own).
std::optional<std::pair<Interval, Unit>> compile_interval(const LocatedText& text, const std::string& what_for,
                                                          Diagnostics& out);

// Words that cannot be names: units, operators, blocks, modes.
bool is_reserved(const std::string& word);
// Letters, digits and underscores, a letter first, at most 64: the names of a model.
bool is_name(const std::string& word);

}  // namespace lanyard::lang
