// Threads take whole claims, in the order of the file; each claim's rounds run in one thread. So nothing that is
// printed depends on how many threads there are. Time, memory and Ctrl-C are watched beside them and can only turn a
// verdict into "undecided".
#include "prove/driver.hpp"

#include <unistd.h>

#include <chrono>
#include <condition_variable>
#include <exception>
#include <fstream>
#include <map>
#include <mutex>
#include <set>
#include <thread>

#include "prove/time.hpp"

namespace lanyard {

namespace {

std::uint64_t resident_mb() {
    std::ifstream in("/proc/self/statm");
    std::uint64_t whole = 0, resident = 0;
    in >> whole >> resident;
    return resident * static_cast<std::uint64_t>(sysconf(_SC_PAGESIZE)) / (1024 * 1024);
}

// Raises the stop flag at a limit and interrupts whoever is at work.
class Watchdog {
 public:
    Watchdog(const DriverOptions& o, StopFlag& stop) : options_(o), stop_(stop), thread_([this] { watch(); }) {}
    ~Watchdog() {
        {
            const std::lock_guard<std::mutex> lock(mutex_);
            over_ = true;
        }
        wake_.notify_all();
        thread_.join();
    }
    Watchdog(const Watchdog&) = delete;
    Watchdog& operator=(const Watchdog&) = delete;

    void working(Interruptible* p) {
        const std::lock_guard<std::mutex> lock(mutex_);
        working_.insert(p);
        if (stop_.raised()) p->interrupt();
    }
    void rests(Interruptible* p) {
        const std::lock_guard<std::mutex> lock(mutex_);
        working_.erase(p);
    }
    bool was_interrupted() const { return interrupted_; }
    void end_all() {
        const std::lock_guard<std::mutex> lock(mutex_);
        stop_.raise();
        for (Interruptible* p : working_) p->interrupt();
    }

 private:
    void watch() {
        const auto start = std::chrono::steady_clock::now();
        std::unique_lock<std::mutex> lock(mutex_);
        while (!over_) {
            wake_.wait_for(lock, std::chrono::milliseconds(50));
            const double passed = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
            if (options_.interrupted && options_.interrupted()) interrupted_ = true;
            if (interrupted_ || (options_.time_s && passed > *options_.time_s) ||
                (options_.memory_mb && resident_mb() > *options_.memory_mb))
                stop_.raise();
            // Again and again: a prover may just have begun its next query.
            if (stop_.raised())
                for (Interruptible* p : working_) p->interrupt();
        }
    }

    const DriverOptions& options_;
    StopFlag& stop_;
    std::mutex mutex_;
    std::condition_variable wake_;
    std::set<Interruptible*> working_;
    bool over_ = false;
    std::atomic<bool> interrupted_{false};
    std::thread thread_;  // last: it uses all of the above
};

class Driver {
 public:
    Driver(const Model& m, const DriverOptions& o)
        : model_(m), options_(o), watchdog_(o, stop_), results_(o.claims.size()), time_(m.conditions.size()) {}

    DriverReport run() {
        std::vector<std::thread> threads;
        const std::size_t count = std::max<std::size_t>(1, std::min<std::size_t>(options_.jobs, results_.size()));
        for (std::size_t i = 0; i < count; ++i) threads.emplace_back([this] { work(); });
        for (auto& t : threads) t.join();
        if (failure_) std::rethrow_exception(failure_);
        DriverReport out;
        for (auto& r : results_) out.results.push_back(std::move(*r));
        out.interrupted = watchdog_.was_interrupted();
        return out;
    }

 private:
    JudgeOptions judge_options() {
        JudgeOptions o;
        o.engine = options_.engine;
        o.work_limit = options_.work_limit;
        o.stop = &stop_;
        auto current = std::make_shared<Interruptible*>(nullptr);
        o.running = [this, current](Interruptible* p) {
            if (*current) watchdog_.rests(*current);
            *current = p;
            if (p) watchdog_.working(p);
        };
        return o;
    }

    void work() {
        for (;;) {
            std::size_t mine = 0;
            {
                const std::lock_guard<std::mutex> lock(mutex_);
                if (next_ >= results_.size() || failure_) return;
                mine = next_++;
                if (options_.on_start) options_.on_start(told_, options_.claims[mine]);
            }
            try {
                ClaimResult r = judge_one(options_.claims[mine]);
                const std::lock_guard<std::mutex> lock(mutex_);
                results_[mine] = std::move(r);
                while (told_ < results_.size() && results_[told_]) {
                    if (options_.on_result) options_.on_result(*results_[told_]);
                    ++told_;
                }
            } catch (...) {
                const std::lock_guard<std::mutex> lock(mutex_);
                if (!failure_) failure_ = std::current_exception();
                watchdog_.end_all();
            }
        }
    }

    static ClaimResult stopped(int claim, const char* when) {
        ClaimResult r;
        r.claim = claim;
        r.verdict = Undecided{when, 0};
        return r;
    }

    // What a solver says that was interrupted counts for nothing: neither as a verdict nor as a mistake of ours.
    ClaimResult judge_one(int claim) {
        if (stop_.raised()) return stopped(claim, "stopped before it was begun");
        try {
            return judge_with_time(claim);
        } catch (const InternalError&) {
            if (!stop_.raised()) throw;
            return stopped(claim, "stopped before it was decided");
        }
    }

    ClaimResult judge_with_time(int claim) {
        ClaimResult r = judge(model_, claim, judge_options());
        // What rests on a certificate rests on the condition letting time go on.
        const bool certified =
            std::holds_alternative<Proved>(r.verdict)
                ? std::get<Proved>(r.verdict).certificate.has_value()
                : std::holds_alternative<Refuted>(r.verdict) && std::get<Refuted>(r.verdict).certificate.has_value();
        if (!certified) return r;
        // A recoverable claim's playbook has been looked at already.
        const Claim& c = model_.claims[static_cast<std::size_t>(claim)];
        if (std::holds_alternative<Recoverable>(c.body)) return r;
        const TimeVerdict time =
            c.reached_under >= 0 ? time_goes_on(model_, c.condition, claim, judge_options()) : time_under(c.condition);
        if (const auto* goes_on = std::get_if<TimeGoesOn>(&time))
            if (auto* proved = std::get_if<Proved>(&r.verdict)) proved->time = goes_on->evidence;
        if (const auto* stops = std::get_if<TimeStops>(&time))
            r.verdict = Vacuous{stops->run.segments.empty()
                                    ? "the assumptions contradict each other: no scan at all obeys them"
                                    : "the assumptions stop time: a state is reached from which no scan obeys them",
                                std::nullopt, stops->run, stops->evidence};
        if (const auto* unknown = std::get_if<TimeUnknown>(&time))
            r.verdict = Undecided{
                "it holds, but whether its assumptions let time go on was not settled: " + unknown->reason, 0};
        return r;
    }

    const TimeVerdict& time_under(int condition) {
        auto& slot = time_[static_cast<std::size_t>(condition)];
        std::call_once(slot.once, [&] { slot.verdict = time_goes_on(model_, condition, -1, judge_options()); });
        return slot.verdict;
    }

    struct TimeSlot {
        std::once_flag once;
        TimeVerdict verdict;
    };
    const Model& model_;
    const DriverOptions& options_;
    StopFlag stop_;
    Watchdog watchdog_;
    std::mutex mutex_;
    std::size_t next_ = 0, told_ = 0;
    std::vector<std::optional<ClaimResult>> results_;
    std::vector<TimeSlot> time_;
    std::exception_ptr failure_;
};

}  // namespace

DriverReport check_claims(const Model& model, const DriverOptions& options) { return Driver(model, options).run(); }

}  // namespace lanyard
