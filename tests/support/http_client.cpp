#include "tests/support/http_client.hpp"

#include <array>
#include <cstdlib>
#include <stdexcept>
#include <utility>

#include <arpa/inet.h>
#include <netinet/in.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

namespace linewood::testing {

RawClient::RawClient(int port) : socket_{::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0)} {
    sockaddr_in to = {};
    to.sin_family = AF_INET;
    to.sin_port = htons(static_cast<std::uint16_t>(port));
    to.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    if (socket_ < 0 || ::connect(socket_, reinterpret_cast<const sockaddr*>(&to), sizeof to) != 0) {
        ::close(socket_);
        throw std::runtime_error{"nothing listens at port " + std::to_string(port)};
    }
}

RawClient::~RawClient() {
    if (socket_ >= 0) {
        ::close(socket_);
    }
}

RawClient::RawClient(RawClient&& other) noexcept : socket_{std::exchange(other.socket_, -1)} {}

bool RawClient::send(std::string_view bytes) const {
    while (!bytes.empty()) {
        const ssize_t sent = ::send(socket_, bytes.data(), bytes.size(), MSG_NOSIGNAL);
        if (sent <= 0) {
            return false;
        }
        bytes.remove_prefix(static_cast<std::size_t>(sent));
    }
    return true;
}

std::string RawClient::receive(std::chrono::milliseconds most) const {
    const auto end = std::chrono::steady_clock::now() + most;
    std::string out;
    std::array<char, 16384> block;
    for (;;) {
        const auto left = std::chrono::duration_cast<std::chrono::milliseconds>(
            end - std::chrono::steady_clock::now());
        pollfd watched = {socket_, POLLIN, 0};
        if (left.count() <= 0 || ::poll(&watched, 1, static_cast<int>(left.count())) <= 0) {
            return out;
        }
        const ssize_t got = ::recv(socket_, block.data(), block.size(), 0);
        if (got <= 0) {
            return out;
        }
        out.append(block.data(), static_cast<std::size_t>(got));
    }
}

bool RawClient::closed_within(std::chrono::milliseconds most) const {
    const auto end = std::chrono::steady_clock::now() + most;
    receive(most);
    return std::chrono::steady_clock::now() < end;
}

std::string HttpResult::header(std::string_view name) const {
    const std::string line = "\r\n" + std::string{name} + ": ";
    const std::size_t found = head.find(line);
    if (found == std::string::npos) {
        return {};
    }
    const std::size_t begin = found + line.size();
    return head.substr(begin, head.find("\r\n", begin) - begin);
}

HttpResult http_send(int port, std::string_view bytes) {
    const RawClient client{port};
    client.send(bytes);
    const std::string answer = client.receive();
    HttpResult out;
    const std::size_t end = answer.find("\r\n\r\n");
    if (!answer.starts_with("HTTP/1.1 ") || end == std::string::npos) {
        return out;
    }
    out.status = std::atoi(answer.c_str() + 9);
    out.head = answer.substr(0, end + 2);
    out.body = answer.substr(end + 4);
    return out;
}

HttpResult http_get(int port,
                    std::string_view target,
                    std::string_view more,
                    std::string_view method) {
    std::string request;
    request.append(method).append(" ").append(target);
    request.append(" HTTP/1.1\r\nHost: localhost\r\n").append(more).append("\r\n");
    return http_send(port, request);
}

}  // namespace linewood::testing
