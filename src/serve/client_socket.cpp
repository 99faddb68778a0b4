#include "src/serve/client_socket.hpp"

#include <algorithm>
#include <array>
#include <cerrno>

#include <sys/poll.h>
#include <sys/socket.h>

#include "src/serve/request_head.hpp"

namespace linewood {
namespace {

constexpr std::size_t kBlock = 4096;
/// After the answer so much is taken from a client and thrown away, for so long at most.
constexpr std::size_t kMostThrownAway = 256 * 1024;
constexpr std::chrono::milliseconds kLastWait{500};

}  // namespace

bool ClientSocket::wait(short what, Clock::time_point end) const {
    for (;;) {
        const auto left =
            std::chrono::duration_cast<std::chrono::milliseconds>(end - Clock::now()).count();
        if (left <= 0) {
            return false;
        }
        struct pollfd watched = {socket_, what, 0};
        const int ready = ::poll(&watched, 1, static_cast<int>(left));
        if (ready > 0) {
            return true;
        }
        if (ready < 0 && errno != EINTR) {
            return false;
        }
    }
}

ClientSocket::Heard ClientSocket::read_head(std::string& head) {
    const auto end = Clock::now() + limits_.head_time;
    std::array<char, kBlock> block;
    head.clear();
    while (!end_of_head(head)) {
        if (head.size() >= limits_.head_bytes) {
            return Heard::too_large;
        }
        if (!wait(POLLIN, end)) {
            return Heard::too_slow;
        }
        const std::size_t room = std::min(block.size(), limits_.head_bytes - head.size());
        const ssize_t got = ::recv(socket_, block.data(), room, MSG_DONTWAIT);
        if (got > 0) {
            head.append(block.data(), static_cast<std::size_t>(got));
        } else if (got == 0 || (errno != EAGAIN && errno != EINTR)) {
            return Heard::gone;
        }
    }
    return Heard::all;
}

bool ClientSocket::too_slow() const {
    const auto spent = std::chrono::duration_cast<std::chrono::seconds>(Clock::now() - began_);
    return spent > 2 * limits_.quiet_time &&
           written_ < static_cast<std::uint64_t>(spent.count()) * limits_.least_bytes_per_second;
}

bool ClientSocket::write(std::string_view bytes) {
    if (written_ == 0) {
        began_ = Clock::now();
    }
    while (!bytes.empty()) {
        const ssize_t sent =
            ::send(socket_, bytes.data(), bytes.size(), MSG_NOSIGNAL | MSG_DONTWAIT);
        if (sent > 0) {
            bytes.remove_prefix(static_cast<std::size_t>(sent));
            written_ += static_cast<std::uint64_t>(sent);
        } else if (errno == EAGAIN) {
            if (too_slow() || !wait(POLLOUT, Clock::now() + limits_.quiet_time)) {
                return false;
            }
        } else if (errno != EINTR) {
            return false;
        }
    }
    return true;
}

void ClientSocket::finish() {
    ::shutdown(socket_, SHUT_WR);
    const auto end = Clock::now() + kLastWait;
    std::array<char, kBlock> block;
    std::size_t thrown_away = 0;
    while (thrown_away < kMostThrownAway && wait(POLLIN, end)) {
        const ssize_t got = ::recv(socket_, block.data(), block.size(), MSG_DONTWAIT);
        if (got == 0 || (got < 0 && errno != EAGAIN && errno != EINTR)) {
            return;
        }
        thrown_away += got > 0 ? static_cast<std::size_t>(got) : 0;
    }
}

}  // namespace linewood
