#include <algorithm>
#include <array>
#include <string_view>

#include "model/build.hpp"
#include "model/compile_report.hpp"
#include "model/mentions.hpp"

namespace lanyard::model {

namespace {

bool note_mentions(Build& b, const LocatedText& text) {
    bool broken = false;
    for (auto& m : mentions(text.text)) {
        const auto n = b.names.find(m.word);
        if ((n != b.names.end() && n->second.broken) || b.refused_names.contains(m.word)) broken = true;
        b.mentioned.insert(std::move(m.word));
    }
    return broken;
}

// Does it only follow from a name that was refused where it was given?
bool is_about_refused_name(const Build& b, const Diagnostic& d) {
    if (d.code != "reserved-name" && d.code != "unknown-name") return false;
    return std::any_of(b.refused_names.begin(), b.refused_names.end(),
                       [&](const std::string& name) { return d.what.find(quoted(name)) != std::string::npos; });
}

}  // namespace

bool is_about_types(const Diagnostic& d) {
    constexpr std::array<std::string_view, 6> codes = {
        "wrong-type", "wrong-unit", "unit-missing", "ambiguous-temperature", "constant-needed", "absolute-temperature"};
    return std::find(codes.begin(), codes.end(), d.code) != codes.end();
}

bool DivertedReport::drop_type_messages() {
    b_.reading.divert(before_);
    bool dropped = false;
    for (const auto& d : held_.list()) {
        if (is_about_types(d) || is_about_refused_name(b_, d))
            dropped = true;
        else
            b_.reading.add(d);
    }
    held_ = {};
    return dropped;
}

ExprPtr compile_for(Build& b, const LocatedText& text, Scope& scope, std::optional<Type> wanted, Element owner) {
    b.owner = owner;
    const bool broken = note_mentions(b, text);
    if (!broken) return compile(text, scope, wanted, b.reading.out());
    DivertedReport report(b);
    compile(text, scope, wanted, b.reading.out());
    report.drop_type_messages();
    return nullptr;
}

ExprPtr compile_without_memory(Build& b, const LocatedText& text, Scope& scope, std::optional<Type> wanted) {
    const ExprPtr e = compile_for(b, text, scope, wanted, {});
    if (e == nullptr) return nullptr;
    bool good = true;
    visit(e, [&](const Expr& part) {
        if (!has_memory(part.op)) return;
        good = false;
        b.reading.error(
            "memory-here", text.pointer, part.place,
            std::string("`") + op_word(part.op) + "` has a memory, and nothing outside the controller may use one",
            "the world is described scan by scan", "only present values can be used here");
    });
    return good ? e : nullptr;
}

}  // namespace lanyard::model
