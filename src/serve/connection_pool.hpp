#pragma once

#include <condition_variable>
#include <cstddef>
#include <cstdint>
#include <deque>
#include <functional>
#include <list>
#include <mutex>
#include <thread>
#include <vector>

namespace linewood {

/// Threads for connections, so many at most. Where all are taken and another client comes, the connection that
/// has been there longest without having asked for anything is cut, else the one that has been answered for
/// longest, and the newest client comes next: slow ones stand in each other's way only.
class ConnectionPool {
public:
    explicit ConnectionPool(std::size_t most);
    ~ConnectionPool();
    ConnectionPool(const ConnectionPool&) = delete;
    ConnectionPool& operator=(const ConnectionPool&) = delete;

    /// Has a connection served by a thread of its own; the job takes a Turn with its socket. Where too many wait, the
    /// job of the one that has waited longest is done here, and its Turn is refused.
    void run(std::function<void()> job);
    /// Cuts all connections and waits for their jobs. No run() after that.
    void stop();

    /// A connection as the pool sees it.
    struct Entry {
        int socket = -1;
        bool answering = false;
        bool cut = false;
    };

    /// A connection's time in the pool.
    class Turn {
    public:
        Turn(ConnectionPool& pool, int socket);
        /// From here on the pool leaves the socket alone: it may be closed.
        ~Turn();
        Turn(const Turn&) = delete;
        Turn& operator=(const Turn&) = delete;

        /// There is no room: the connection is to be closed without a word.
        bool refused() const { return refused_; }
        /// The client has asked and is being answered.
        void answering();

    private:
        ConnectionPool& pool_;
        bool refused_;
        std::list<Entry>::iterator entry_;
    };

private:
    void work();
    void cut_oldest();
    bool cut_first(bool answering);

    std::size_t most_;
    std::mutex mutex_;
    std::condition_variable changed_;
    std::deque<std::function<void()>> waiting_;
    std::list<Entry> entries_;  ///< the oldest first
    std::vector<std::thread> threads_;
    std::size_t idle_ = 0;
    bool stopped_ = false;
};

}  // namespace linewood
