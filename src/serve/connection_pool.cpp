#include "src/serve/connection_pool.hpp"

#include <system_error>
#include <utility>

#include <sys/socket.h>

namespace linewood {
namespace {

/// Set while a thread that accepts connections does a job itself, for want of room.
thread_local bool refusing = false;

/// So many connections may wait for each that is served (own choice).
constexpr std::size_t kMostWaiting = 4;

}  // namespace

ConnectionPool::ConnectionPool(std::size_t most) : most_{most} {}

ConnectionPool::~ConnectionPool() { stop(); }

void ConnectionPool::run(std::function<void()> job) {
    {
        const std::lock_guard lock{mutex_};
        if (idle_ <= waiting_.size() && threads_.size() < most_ && !stopped_) {
            try {
                threads_.emplace_back([this] { work(); });
            } catch (const std::system_error&) {
                // No more threads to be had: those there are do the work.
            }
        }
        if (idle_ <= waiting_.size() && threads_.size() >= most_) {
            cut_oldest();
        }
        if (!stopped_ && !threads_.empty()) {
            waiting_.push_back(std::move(job));
            job = nullptr;
            changed_.notify_one();
            if (waiting_.size() > kMostWaiting * most_) {
                job = std::move(waiting_.front());
                waiting_.pop_front();
            }
        }
    }
    if (job) {
        refusing = true;
        job();
        refusing = false;
    }
}

void ConnectionPool::work() {
    std::unique_lock lock{mutex_};
    for (;;) {
        ++idle_;
        changed_.wait(lock, [this] { return !waiting_.empty() || stopped_; });
        --idle_;
        if (waiting_.empty()) {
            return;
        }
        std::function<void()> job = std::move(waiting_.back());
        waiting_.pop_back();
        lock.unlock();
        job();
        job = nullptr;
        lock.lock();
    }
}

bool ConnectionPool::cut_first(bool answering) {
    for (Entry& entry : entries_) {
        if (!entry.cut && entry.answering == answering) {
            entry.cut = true;
            ::shutdown(entry.socket, SHUT_RDWR);
            return true;
        }
    }
    return false;
}

void ConnectionPool::cut_oldest() {
    if (!cut_first(false)) {
        cut_first(true);
    }
}

void ConnectionPool::stop() {
    {
        const std::lock_guard lock{mutex_};
        stopped_ = true;
        for (Entry& entry : entries_) {
            entry.cut = true;
            ::shutdown(entry.socket, SHUT_RDWR);
        }
        changed_.notify_all();
    }
    for (std::thread& thread : threads_) {
        thread.join();
    }
    threads_.clear();
}

ConnectionPool::Turn::Turn(ConnectionPool& pool, int socket) : pool_{pool} {
    const std::lock_guard lock{pool_.mutex_};
    refused_ = refusing || pool_.stopped_;
    entry_ = pool_.entries_.insert(pool_.entries_.end(), Entry{socket, false, false});
}

ConnectionPool::Turn::~Turn() {
    const std::lock_guard lock{pool_.mutex_};
    pool_.entries_.erase(entry_);
}

void ConnectionPool::Turn::answering() {
    const std::lock_guard lock{pool_.mutex_};
    entry_->answering = true;
}

}  // namespace linewood
