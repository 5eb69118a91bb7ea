// A log of what is done inside, for whoever asks why a claim is slow, or what was searched and what was kept. Off until
// somebody starts it; nothing that is judged, printed or compared depends on it.
#pragma once

#include <fmt/core.h>

#include <atomic>
#include <cstdint>
#include <filesystem>
#include <string>

#include "base/layers.hpp"

namespace lanyard::base::logging {

// Each has what the ones before it have.
enum class Level { off, info, debug, trace };

inline std::atomic<Level> level{Level::off};
inline bool has(Level wanted) { return level.load(std::memory_order_relaxed) >= wanted; }

// Into this file, which is replaced. The error, or nothing: then one line has been written. Neither of the two while
// somebody writes.
std::string start(const std::filesystem::path& file, Level wanted);
// The error if not all was written.
std::string stop();

// One whole line, whoever else writes. Use the macro below.
void write(Level of, const std::string& text);

// What the lines of this thread are about as long as it is there, behind what they were about already.
class About {
 public:
    template <class Words>
    explicit About(const Words& words) : there_(has(Level::info)) {
        if (there_) begin(words());
    }
    ~About() {
        if (there_) end();
    }
    About(const About&) = delete;
    About& operator=(const About&) = delete;

 private:
    static void begin(const std::string& words);
    static void end();
    const bool there_;
};

// For lines alone, never for what is decided. Processor time of this thread, so that what else a machine does is left
// out.
class Stopwatch {
 public:
    double seconds() const { return now() - start_; }

 private:
    static double now();

    double start_ = now();
};

// Of this process.
std::uint64_t resident_mb();

}  // namespace lanyard::base::logging

// LANYARD_LOG(debug, "{} of {} lemmas kept", kept, all): the arguments are looked at only where such lines are wanted.
#define LANYARD_LOG(LEVEL, ...)                                                                                  \
    do {                                                                                                         \
        if (::lanyard::base::logging::has(::lanyard::base::logging::Level::LEVEL))                               \
            ::lanyard::base::logging::write(::lanyard::base::logging::Level::LEVEL, ::fmt::format(__VA_ARGS__)); \
    } while (false)
