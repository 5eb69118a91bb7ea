#include "prove/pool.hpp"

#include <unistd.h>
#include <algorithm>

#include <chrono>
#include <condition_variable>
#include <deque>
#include <exception>
#include <mutex>
#include <set>
#include <thread>
#include <vector>

#include "base/log.hpp"

namespace lanyard::prove {

namespace {

using Clock = std::chrono::steady_clock;

constexpr auto time_was_up = "the time given with --time was up";

double seconds_since(Clock::time_point t) { return std::chrono::duration<double>(Clock::now() - t).count(); }

// A piece of work that somebody is at, with its own end.
struct Turn {
    explicit Turn(const StopFlag& all) : stop(&all) {}
    StopFlag stop;
    Interruptible* current = nullptr;
    Clock::time_point begun = Clock::now();
    std::optional<double> slice;  // s
    bool over = false;
};

// Raises the stop flag at a limit and interrupts whoever is at work.
class Watchdog {
 public:
    explicit Watchdog(const PoolOptions& o) : options_(o), thread_([this] { watch(); }) {}
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

    const StopFlag& stop() const { return stop_; }
    void begins(Turn& turn) {
        const std::lock_guard<std::mutex> lock(mutex_);
        turns_.insert(&turn);
    }
    void ends(Turn& turn) {
        const std::lock_guard<std::mutex> lock(mutex_);
        turns_.erase(&turn);
    }
    void works(Turn& turn, Interruptible* p) {
        const std::lock_guard<std::mutex> lock(mutex_);
        turn.current = p;
        if (p != nullptr && (ending_ || turn.over)) p->interrupt();
    }
    // Slices end only where somebody waits.
    void somebody_waits(bool yes) { waited_for_ = yes; }
    double time_left() const { return options_.time_s ? std::max(0.0, *options_.time_s - seconds_since(start_)) : 0; }
    // Also by what was asked for since the watch looked last.
    bool was_interrupted() const { return interrupted_ || (options_.interrupted && options_.interrupted()); }
    void end_all() {
        const std::lock_guard<std::mutex> lock(mutex_);
        end("another claim failed");
    }

 private:
    void end(const std::string& why) {
        stop_.raise(why);
        ending_ = true;
        interrupt_all();
    }
    void interrupt_all() {
        for (Turn* t : turns_)
            if (t->current != nullptr) t->current->interrupt();
    }
    void end_slices() {
        for (Turn* t : turns_) {
            if (!t->slice || !waited_for_ || seconds_since(t->begun) < *t->slice) continue;
            t->stop.raise(time_was_up);
            t->over = true;
            if (t->current != nullptr) t->current->interrupt();
        }
    }
    void watch() {
        std::unique_lock<std::mutex> lock(mutex_);
        while (!over_) {
            wake_.wait_for(lock, std::chrono::milliseconds(50));
            if (options_.interrupted && options_.interrupted()) interrupted_ = true;
            const char* why = nullptr;
            if (options_.memory_mb && logging::resident_mb() > *options_.memory_mb)
                why = "the memory given with --memory was used up";
            if (options_.time_s && seconds_since(start_) > *options_.time_s) why = time_was_up;
            if (interrupted_) why = "interrupted";
            if (why != nullptr && !ending_) LANYARD_LOG(info, "everything is stopped: {}", why);
            if (why != nullptr) end(why);
            // Again and again: a prover may just have begun its next query.
            if (ending_) interrupt_all();
            end_slices();
        }
    }

    const PoolOptions& options_;
    StopFlag stop_;
    const Clock::time_point start_ = Clock::now();
    std::mutex mutex_;
    std::condition_variable wake_;
    std::set<Turn*> turns_;
    bool over_ = false, ending_ = false;  // guarded by mutex_, as the set is
    std::atomic<bool> interrupted_{false}, waited_for_{false};
    std::thread thread_;  // last: it uses all of the above
};

// What waits for a turn, and how long the last one was.
struct Waiting {
    std::size_t task = 0;
    double last_slice = 0;  // s; 0: it has had none
};

class Pool {
 public:
    Pool(const PoolTasks& t, const PoolOptions& o) : tasks_(t), options_(o), done_(t.count) {
        for (std::size_t i = 0; i < t.count; ++i) queue_.push_back({i, 0});
    }

    bool run() {
        std::vector<std::thread> threads;
        for (std::size_t i = 0; i < threads_wanted(); ++i) threads.emplace_back([this] { work(); });
        for (auto& t : threads) t.join();
        if (failure_) std::rethrow_exception(failure_);
        return watchdog_.was_interrupted();
    }

 private:
    std::size_t threads_wanted() const {
        return std::max<std::size_t>(1, std::min<std::size_t>(options_.jobs, tasks_.count));
    }

    JudgeOptions judge_options(Turn& turn) {
        JudgeOptions o = options_.judge;
        o.stop = &turn.stop;
        o.running = [this, &turn](Interruptible* p) { watchdog_.works(turn, p); };
        return o;
    }

    // A fair part of what is left, at most four times what it had before. Where that would not be twice as much,
    // whoever is in front gets the rest: two halves of the time would decide nothing.
    std::optional<double> slice_for(const Waiting& w) const {
        if (!tasks_.repeatable || !options_.time_s) return std::nullopt;
        const double fair = watchdog_.time_left() * static_cast<double>(threads_wanted()) /
                            static_cast<double>(std::max<std::size_t>(1, tasks_.count - decided_));
        if (w.last_slice == 0) return std::min(first_slice, fair / 2);
        const double slice = std::min(4 * w.last_slice, fair);
        return slice < 2 * w.last_slice ? std::nullopt : std::optional(slice);
    }

    // True if it is done, or there is no time for another turn.
    bool take_turn(const Waiting& mine, std::optional<double> slice) {
        Turn turn(watchdog_.stop());
        turn.slice = slice;
        watchdog_.begins(turn);
        struct Ending {
            Watchdog& watchdog;
            Turn& turn;
            ~Ending() { watchdog.ends(turn); }
        } const ending{watchdog_, turn};
        tasks_.work(mine.task, judge_options(turn));
        return !slice || watchdog_.stop().raised() || !turn.stop.raised();
    }

    void settle(const Waiting& mine, std::optional<double> slice, bool over) {
        const std::lock_guard<std::mutex> lock(mutex_);
        if (!over) {
            LANYARD_LOG(info, "task {}: not done in {:.2f} s, others wait; it is begun anew later", mine.task, *slice);
            queue_.push_back({mine.task, *slice});
            return;
        }
        done_[mine.task] = true;
        ++decided_;
        for (; told_ < tasks_.count && done_[told_]; ++told_)
            if (tasks_.on_done) tasks_.on_done(told_);
    }

    void work() {
        for (;;) {
            Waiting mine;
            std::optional<double> slice;
            {
                const std::lock_guard<std::mutex> lock(mutex_);
                // What is not in the queue is somebody's, who begins it anew himself if he has to.
                if (queue_.empty() || failure_) return;
                mine = queue_.front();
                queue_.pop_front();
                watchdog_.somebody_waits(!queue_.empty());
                slice = slice_for(mine);
                if (tasks_.on_start) tasks_.on_start(decided_, mine.task);
            }
            try {
                settle(mine, slice, take_turn(mine, slice));
            } catch (...) {
                const std::lock_guard<std::mutex> lock(mutex_);
                if (!failure_) failure_ = std::current_exception();
                watchdog_.end_all();
            }
        }
    }

    static constexpr double first_slice = 0.5;  // s: most claims take less

    const PoolTasks& tasks_;
    const PoolOptions& options_;
    Watchdog watchdog_{options_};
    std::mutex mutex_;
    std::deque<Waiting> queue_;
    std::size_t told_ = 0, decided_ = 0;
    std::vector<bool> done_;
    std::exception_ptr failure_;
};

}  // namespace

bool run_pool(const PoolTasks& tasks, const PoolOptions& options) { return Pool(tasks, options).run(); }

}  // namespace lanyard::prove
