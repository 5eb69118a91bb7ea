#include "base/log.hpp"

#include <spdlog/logger.h>
#include <spdlog/sinks/ostream_sink.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include <fstream>
#include <memory>
#include <vector>

#include "base/characters.hpp"

namespace lanyard::base::logging {

namespace {

struct File {
    std::string name;
    std::ofstream stream;
    std::unique_ptr<spdlog::logger> lines;
};
std::unique_ptr<File> open_file;

thread_local std::vector<std::string> subjects;

spdlog::level::level_enum theirs(Level of) {
    switch (of) {
        case Level::info:
            return spdlog::level::info;
        case Level::debug:
            return spdlog::level::debug;
        case Level::trace:
            return spdlog::level::trace;
        case Level::off:
            return spdlog::level::off;
    }
    return spdlog::level::off;
}

// Where results go no line of a log may, or whoever reads them reads both. On a terminal that is as the user wants it.
bool is_where_results_go(const std::filesystem::path& file) {
    struct stat results {
    }, given{};
    if (fstat(STDOUT_FILENO, &results) != 0 || stat(file.c_str(), &given) != 0) return false;
    const bool is_kept = S_ISREG(results.st_mode) || S_ISFIFO(results.st_mode) || S_ISSOCK(results.st_mode);
    return is_kept && results.st_dev == given.st_dev && results.st_ino == given.st_ino;
}

}  // namespace

std::string start(const std::filesystem::path& file, Level wanted) {
    if (is_where_results_go(file)) return "cannot write the log to " + file.string() + ": the results go there";
    auto next = std::make_unique<File>();
    next->name = file.string();
    next->stream.open(file, std::ios::binary | std::ios::trunc);
    if (!next->stream) return "cannot write the log to " + next->name;
    const auto sink = std::make_shared<spdlog::sinks::ostream_sink_mt>(next->stream);
    next->lines = std::make_unique<spdlog::logger>("lanyard", sink);
    next->lines->set_pattern("%T.%e %-5l [%t] %v");
    next->lines->set_level(spdlog::level::trace);
    next->lines->flush_on(spdlog::level::trace);  // a log is read most of all where the end never came
    open_file = std::move(next);
    level = wanted;
    write(Level::info, fmt::format("log begins, process {}", getpid()));
    return open_file->stream ? "" : stop();
}

std::string stop() {
    level = Level::off;
    const auto last = std::move(open_file);
    if (!last || last->stream.flush()) return "";
    return "cannot write the log to " + last->name;
}

void write(Level of, const std::string& text) {
    std::string line;
    for (const auto& s : subjects) line += s + ": ";
    open_file->lines->log(theirs(of), "{}", sanitize_for_terminal(line + text));
}

void About::begin(const std::string& words) { subjects.push_back(words); }
void About::end() { subjects.pop_back(); }

double Stopwatch::now() {
    timespec t{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
    return static_cast<double>(t.tv_sec) + static_cast<double>(t.tv_nsec) * 1e-9;
}

std::uint64_t resident_mb() {
    std::ifstream in("/proc/self/statm");
    std::uint64_t whole = 0, resident = 0;
    in >> whole >> resident;
    return resident * static_cast<std::uint64_t>(sysconf(_SC_PAGESIZE)) / (1024 * 1024);
}

}  // namespace lanyard::base::logging
