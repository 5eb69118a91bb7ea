#include "base/suggest.hpp"
#include "model/build.hpp"

namespace lanyard::model {

namespace {

constexpr std::size_t most_points = 256;

// Numbers along an axis or in the cells: all of one dimension, each a text with its unit or a bare number in the unit
// that is given beside them.
class NumberList {
 public:
    NumberList(Build& b, const std::optional<LocatedText>& unit, std::string what_for)
        : b_(b), what_for_(std::move(what_for)) {
        if (!unit) return;
        unit_ = given_ = unit_named(b, *unit);
        good_ = given_.has_value();
    }

    Rational read(const json::Value& v, const std::string& pointer) {
        if (v.kind == json::Kind::number) return bare(v, pointer);
        const LocatedText text = b_.reading.located(v, pointer);
        if (!unit_) unit_ = unit_in(text);
        if (!unit_) return fail();
        const auto n = compile_number(text, unit_->dimension, is_difference(), what_for_, b_.reading.out());
        return n ? n->si : fail();
    }

    bool good() const { return good_; }
    Type type() const {
        const Unit unit = unit_.value_or(Unit{});
        return Type::number(unit.dimension, is_difference());
    }
    Unit unit() const { return unit_.value_or(plain()); }

 private:
    static Unit plain() { return {"", {}, 1, 0, "", ""}; }
    // A list of temperatures is absolute; only K may be meant as a difference.
    bool is_difference() const { return !unit_ || !unit_->dimension.is_temperature() || unit_->symbol == "K"; }
    Rational fail() {
        good_ = false;
        return 0;
    }

    Rational bare(const json::Value& v, const std::string& pointer) {
        const auto n = parse_decimal(v.text);
        if (!n) {
            b_.reading.error("number-too-large", pointer, b_.reading.place(v), "this number is too large or too small",
                             "exponents lie within -99 .. 99");
            return fail();
        }
        if (!given_ && unit_ && !unit_->dimension.is_plain()) {
            b_.reading.error("unit-missing", pointer, b_.reading.place(v),
                             "this number has no unit, but others here do", "",
                             R"(write it like the others, or give "unit" beside the list)");
            return fail();
        }
        if (!unit_) unit_ = plain();
        return to_si(*n, *unit_, is_difference());
    }

    // The unit behind the first number decides the dimension of all.
    std::optional<Unit> unit_in(const LocatedText& text) {
        const auto from = text.text.find_first_not_of("+-.0123456789 \t");
        if (from == std::string::npos) return plain();
        std::string symbol = text.text.substr(from);
        while (!symbol.empty() && symbol.back() == ' ') symbol.pop_back();
        auto unit = find_unit(symbol);
        if (unit) return unit;
        // The compiler knows best what to say about it.
        if (compile_number(text, {}, true, what_for_, b_.reading.out()))
            b_.reading.error("unknown-unit", text.pointer, text.place, "there is no unit `" + symbol + "`");
        return std::nullopt;
    }

    Build& b_;
    std::string what_for_;
    std::optional<Unit> given_;
    std::optional<Unit> unit_;
    bool good_ = true;
};

struct TableBuilder {
    Build& b;
    const Entry& entry;
    Table table;
    bool good = true;

    std::vector<Rational> axis(const ObjectReader& object, const char* key) {
        std::vector<Rational> points;
        const auto* v = object.get(key);
        if (v == nullptr) {
            if (!object.has(key)) return points;
            good = false;
            table.shape.axes.emplace_back();
            return points;
        }
        const ObjectReader axis_object(b.reading, object_help("axis"), *v, object.pointer(key));
        const auto* at = axis_object.get("at");
        if (at == nullptr || (axis_object.has("unit") && axis_object.get("unit") == nullptr)) {
            good = false;
            table.shape.axes.emplace_back();
            return points;
        }
        NumberList numbers(b, axis_object.text("unit"), "a point of the axis");
        for (std::size_t i = 0; i < at->items.size(); ++i)
            points.push_back(numbers.read(at->items[i], json::child(axis_object.pointer("at"), i)));
        table.shape.axes.push_back(numbers.type());
        good = good && axis_object.good() && numbers.good();
        if (numbers.good()) check_axis(points, *at, axis_object.pointer("at"), numbers.unit());
        return points;
    }

    void check_axis(const std::vector<Rational>& points, const json::Value& at, const std::string& pointer,
                    const Unit& unit) {
        if (points.size() < 2 || points.size() > most_points) {
            good = false;
            b.reading.error("table-shape", pointer, b.reading.place(at),
                            "an axis has 2 to " + std::to_string(most_points) + " points, this one has " +
                                std::to_string(points.size()));
        }
        for (std::size_t i = 1; i < points.size(); ++i) {
            if (points[i] > points[i - 1]) continue;
            good = false;
            const bool diff = !unit.dimension.is_temperature();
            b.reading.error("table-not-rising", json::child(pointer, i), b.reading.place(at.items[i]),
                            "this point is not above the previous one, " +
                                exact_text(from_si(points[i - 1], unit, diff)) + " " + unit.symbol,
                            "there is a straight line between each two points, so the points must rise");
        }
    }

    void bad_shape(const json::Value& v, const std::string& pointer, const std::string& what, std::size_t wanted,
                   std::size_t found, const char* of) {
        good = false;
        b.reading.error(
            "table-shape", pointer, b.reading.place(v),
            what + " " + std::to_string(found) + " cells, but there are " + std::to_string(wanted) + " " + of,
            "every point of the axes has one cell");
    }

    void cells(const ObjectReader& object) {
        const auto* v = object.get("cells");
        if (v == nullptr || (object.has("unit") && object.get("unit") == nullptr)) {
            good = false;
            return;
        }
        const bool two_way = object.has("columns");
        NumberList numbers(b, object.text("unit"), "a cell of the table");
        const std::string pointer = object.pointer("cells");
        if (table.rows.size() != v->items.size() && good)
            bad_shape(*v, pointer, two_way ? "the table has lines for" : "the table has", table.rows.size(),
                      v->items.size(), "rows");
        for (std::size_t r = 0; r < v->items.size(); ++r) {
            const auto& line = v->items[r];
            const std::string here = json::child(pointer, r);
            if ((line.kind == json::Kind::array) != two_way) {
                good = false;
                b.reading.error("table-shape", here, b.reading.place(line),
                                two_way ? "a table with columns has a list of cells for each row"
                                        : "a table without columns has one cell for each row");
                return;
            }
            read_line(line, here, numbers);
        }
        table.shape.value = numbers.type();
        good = good && numbers.good();
    }

    void read_line(const json::Value& line, const std::string& pointer, NumberList& numbers) {
        std::vector<Rational> row;
        if (line.kind != json::Kind::array) {
            row.push_back(numbers.read(line, pointer));
        } else {
            for (std::size_t c = 0; c < line.items.size(); ++c)
                row.push_back(numbers.read(line.items[c], json::child(pointer, c)));
            if (row.size() != table.columns.size() && !table.columns.empty())
                bad_shape(line, pointer, "this line has", table.columns.size(), row.size(), "columns");
        }
        table.cells.push_back(std::move(row));
    }
};

void build_table(Build& b, const Entry& e) {
    TableBuilder t{b, e, {}, e.value != nullptr};
    t.table.name = e.name;
    t.table.place = e.place;
    if (e.value != nullptr) {
        const ObjectReader object(b.reading, object_help("table"), *e.value, e.pointer);
        t.good = object.good();
        t.table.rows = t.axis(object, "rows");
        t.table.columns = t.axis(object, "columns");
        t.cells(object);
    }
    const auto index = b.model.tables.next();
    t.table.shape.id = index;
    if (t.table.shape.axes.empty()) t.table.shape.axes.emplace_back();
    b.model.tables.push_back(std::move(t.table));
    declare(b, e, {Thing::table, index, {}, !t.good});
}

}  // namespace

void build_tables(Build& b, const ObjectReader& top) {
    for (const auto& e : top.entries("tables")) build_table(b, e);
}

}  // namespace lanyard::model
