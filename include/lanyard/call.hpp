// What all calls share: how a refusal looks, how far a call may go, how it is stopped, what it may throw.
#pragma once

#include <atomic>
#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace lanyard::api {

// For a terminal: a name or text of somebody's file as one line that can neither command the terminal nor turn the
// direction of writing. Tabs and line ends become blanks; other controls, marks of direction and
// whatever is not UTF-8 become question marks.
std::string harmless(std::string_view text);
// A table that lanyard wrote with commas, for spreadsheets of countries with a decimal comma: semicolons between the
// cells, a comma in numbers that stand alone, a byte order mark.
std::string semicolon_csv(const std::string& csv);

// One problem of a file, or a note on it.
struct Diagnostic {
    enum class Level { error, warning, hint };
    Level level = Level::error;
    std::string code;  // "unknown-name": a row of diagnostic_table() or finding_table(); empty where no file is judged
    std::size_t line = 0;    // from 1; 0: it has no place
    std::size_t column = 0;  // from 1, in bytes
    std::string pointer;     // JSON pointer of the value, "/logic/hot"; may be empty
    std::string what;        // one sentence
    std::string why;         // why it matters; may be empty
    std::string hint;        // what to do about it, "did you mean ...?"; may be empty
};

// Why a call did nothing.
struct Rejected {
    enum class Because {
        content,     // what a file says is wrong: each problem is a diagnostic
        unreadable,  // a file could not be read
        request      // the call names something that does not exist: a claim, a prover, a rule pack
    };
    Because because = Because::content;
    std::vector<Diagnostic> diagnostics;  // at least one
    std::string text;  // all of them as whole lines for people, each with its place, a caret, the reason and a hint
};

// Stops one or several calls soon: those whose Limits hold a token of the source. Copies of a source are one source.
class StopToken {
 public:
    StopToken() = default;  // never requests a stop
    bool stop_requested() const noexcept { return asked_ && asked_->load(); }

 private:
    friend class StopSource;
    std::shared_ptr<const std::atomic<bool>> asked_;
};
class StopSource {
 public:
    // May be called from any thread, and from a signal handler as long as the source lives.
    void request_stop() const noexcept { asked_->store(true); }
    bool stop_requested() const noexcept { return asked_->load(); }
    StopToken token() const {
        StopToken out;
        out.asked_ = asked_;
        return out;
    }

 private:
    static_assert(std::atomic<bool>::is_always_lock_free, "request_stop() must be safe in a signal handler");
    std::shared_ptr<std::atomic<bool>> asked_ = std::make_shared<std::atomic<bool>>(false);
};

// How far a call that judges may go. What it has not decided by then is undecided.
struct Limits {
    unsigned jobs = 0;                       // threads; 0: one for each processor. Verdicts do not depend on it
    std::optional<double> time_s = {};       // seconds of wall clock for the call; verdicts may differ from run to run
    std::optional<std::uint64_t> work = {};  // units of the solver's work for each question; repeats exactly
    std::optional<std::uint64_t> memory_mb = {};  // megabytes (2^20 bytes) of the whole program
    StopToken stop = {};  // what is decided stays decided; the report says that it was interrupted
};

// What is going on, for a progress line.
struct Progress {
    std::size_t decided = 0;  // claims, or mutants
    std::size_t total = 0;
    std::string claim;  // id of one that is being worked on
    std::string doing;  // "making the bench card"; may be empty
};
// Called when something changes, from any thread, never two calls at once. Has to return quickly.
using OnProgress = std::function<void(const Progress&)>;

// lanyard caught itself at a contradiction: a certificate that does not check, a run that does not replay, a solver
// that failed. No verdict is to be believed. What is needed to look into it was written to `report_file`, in the
// current folder (empty if that failed too).
class InternalError : public std::runtime_error {
 public:
    InternalError(const std::string& what, std::filesystem::path report_file)
        : std::runtime_error(what), report_file_(std::move(report_file)) {}
    const std::filesystem::path& report_file() const { return report_file_; }

 private:
    std::filesystem::path report_file_;
};

// "did you mean ...?": the candidate nearest to a mistyped word, if one is near enough.
std::optional<std::string> nearest(const std::string& word, const std::vector<std::string>& candidates);

}  // namespace lanyard::api
