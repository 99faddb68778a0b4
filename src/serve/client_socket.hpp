#pragma once

#include <chrono>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace linewood {

/// How long a client is waited for, and how much is taken from it.
struct ClientLimits {
    std::chrono::milliseconds head_time{10'000};   ///< until its request has come
    std::chrono::milliseconds quiet_time{10'000};  ///< in which it takes nothing of the answer
    std::uint64_t least_bytes_per_second = 1024;   ///< of the answer, after twice that time
    std::size_t head_bytes = 16 * 1024;
};

/// The connection of one client. Every wait has an end.
class ClientSocket {
public:
    enum class Heard : std::uint8_t { all, too_large, too_slow, gone };

    /// @param socket outlives this and is not closed by it
    ClientSocket(int socket, const ClientLimits& limits) : socket_{socket}, limits_{limits} {}

    /// Reads up to the end of the head, and no further than what has come with it.
    Heard read_head(std::string& head);
    /// @return false where the client takes too little for too long, or has gone.
    bool write(std::string_view bytes);
    /// Says that no more comes, and takes for a moment what the client still sends: a socket closed on unread
    /// bytes would take the answer back.
    void finish();

private:
    using Clock = std::chrono::steady_clock;
    /// Waits until the socket can be read or written. @return false where it is over first.
    bool wait(short what, Clock::time_point end) const;
    bool too_slow() const;

    int socket_;
    const ClientLimits& limits_;
    std::uint64_t written_ = 0;
    Clock::time_point began_ = {};  ///< to write
};

}  // namespace linewood
