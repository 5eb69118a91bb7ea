// Names and values of a script.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "lang/compile.hpp"
#include "model/model.hpp"
#include "sim/script.hpp"

namespace lanyard::sim {

// A script on its way from a file.
struct ScriptReading {
    const Model& model;
    const SourceText& source;
    Diagnostics& out;

    void error(const std::string& code, const LocatedText& where, const std::string& what, const std::string& why = "",
               const std::string& hint = "") const {
        out.add({code, Severity::error, where.pointer, where.place, what, why, hint});
    }
};

// The signal that a script may set under this name.
std::optional<SignalId> settable(const ScriptReading& r, const LocatedText& name);
// "on", "12 psi", "running", as the signal needs it. `unit`: that of plain numbers, empty = numbers bring their own.
std::optional<Value> setting_value(const ScriptReading& r, SignalId id, const LocatedText& text,
                                   const std::string& unit);
// A time, from 0 to the longest that a script may last.
std::optional<Rational> script_time(const ScriptReading& r, const LocatedText& text, const std::string& what_for);

// The changes in the order of their times, gathered by scans; errors if one is not within the run.
struct TimedSetting {
    Rational at;
    ScriptSetting setting;
};
std::optional<Script> gather(const ScriptReading& r, const std::vector<TimedSetting>& settings, const Rational& until);

std::optional<Script> read_json_script(const ScriptReading& r);
std::optional<Script> read_csv_script(const ScriptReading& r);

}  // namespace lanyard::sim
