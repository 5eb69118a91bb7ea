#include "prove/pool.hpp"

#include <unistd.h>
#include <algorithm>

#include <chrono>
#include <condition_variable>
#include <exception>
#include <memory>
#include <mutex>
#include <set>
#include <thread>
#include <vector>

#include "base/log.hpp"

namespace lanyard {

namespace {

// Raises the stop flag at a limit and interrupts whoever is at work.
class Watchdog {
 public:
    Watchdog(const PoolOptions& o, StopFlag& stop) : options_(o), stop_(stop), thread_([this] { watch(); }) {}
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
        if (ending_) p->interrupt();
    }
    void rests(Interruptible* p) {
        const std::lock_guard<std::mutex> lock(mutex_);
        working_.erase(p);
    }
    // Also by what was asked for since the watch looked last.
    bool was_interrupted() const { return interrupted_ || (options_.interrupted && options_.interrupted()); }
    void end_all() {
        const std::lock_guard<std::mutex> lock(mutex_);
        end();
    }

 private:
    void end() {
        stop_.raise();
        ending_ = true;
        for (Interruptible* p : working_) p->interrupt();
    }
    void watch() {
        const auto start = std::chrono::steady_clock::now();
        std::unique_lock<std::mutex> lock(mutex_);
        while (!over_) {
            wake_.wait_for(lock, std::chrono::milliseconds(50));
            const double passed = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
            if (options_.interrupted && options_.interrupted()) interrupted_ = true;
            const char* why = nullptr;
            if (options_.memory_mb && logging::resident_mb() > *options_.memory_mb) why = "memory";
            if (options_.time_s && passed > *options_.time_s) why = "time";
            if (interrupted_) why = "interrupted";
            if (why != nullptr && !ending_) LANYARD_LOG(info, "everything is stopped: {}", why);
            ending_ = ending_ || why != nullptr;
            // Again and again: a prover may just have begun its next query.
            if (ending_) end();
        }
    }

    const PoolOptions& options_;
    StopFlag& stop_;
    std::mutex mutex_;
    std::condition_variable wake_;
    std::set<Interruptible*> working_;
    bool over_ = false, ending_ = false;  // guarded by mutex_, as the set is
    std::atomic<bool> interrupted_{false};
    std::thread thread_;  // last: it uses all of the above
};

class Pool {
 public:
    Pool(const PoolTasks& t, const PoolOptions& o) : tasks_(t), options_(o), watchdog_(o, stop_), done_(t.count) {}

    bool run() {
        std::vector<std::thread> threads;
        const std::size_t count = std::max<std::size_t>(1, std::min<std::size_t>(options_.jobs, tasks_.count));
        for (std::size_t i = 0; i < count; ++i) threads.emplace_back([this] { work(); });
        for (auto& t : threads) t.join();
        if (failure_) std::rethrow_exception(failure_);
        return watchdog_.was_interrupted();
    }

 private:
    JudgeOptions judge_options() {
        JudgeOptions o = options_.judge;
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
                if (next_ >= tasks_.count || failure_) return;
                mine = next_++;
                if (tasks_.on_start) tasks_.on_start(told_, mine);
            }
            try {
                tasks_.work(mine, judge_options());
                const std::lock_guard<std::mutex> lock(mutex_);
                done_[mine] = true;
                for (; told_ < tasks_.count && done_[told_]; ++told_)
                    if (tasks_.on_done) tasks_.on_done(told_);
            } catch (...) {
                const std::lock_guard<std::mutex> lock(mutex_);
                if (!failure_) failure_ = std::current_exception();
                watchdog_.end_all();
            }
        }
    }

    const PoolTasks& tasks_;
    const PoolOptions& options_;
    StopFlag stop_;
    Watchdog watchdog_;
    std::mutex mutex_;
    std::size_t next_ = 0, told_ = 0;
    std::vector<bool> done_;
    std::exception_ptr failure_;
};

}  // namespace

bool run_pool(const PoolTasks& tasks, const PoolOptions& options) { return Pool(tasks, options).run(); }

}  // namespace lanyard
