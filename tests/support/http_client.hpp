#pragma once

#include <chrono>
#include <string>
#include <string_view>

namespace linewood::testing {

/// A connection to a server on this machine that sends any bytes and takes what comes. Closed in the end.
class RawClient {
public:
    /// @throws std::runtime_error where nothing listens there
    explicit RawClient(int port);
    ~RawClient();
    RawClient(RawClient&& other) noexcept;
    RawClient& operator=(RawClient&&) = delete;
    RawClient(const RawClient&) = delete;
    RawClient& operator=(const RawClient&) = delete;

    /// @return false where the server has gone
    bool send(std::string_view bytes) const;
    /// All that comes until the server closes the connection, or the time is over.
    std::string receive(std::chrono::milliseconds most = std::chrono::seconds{10}) const;
    /// Has the server closed it within that time?
    bool closed_within(std::chrono::milliseconds most) const;

private:
    int socket_;
};

/// An answer, taken apart.
struct HttpResult {
    int status = 0;  ///< 0: no answer
    std::string head;
    std::string body;

    /// A header's value, by its name as it is written; empty where it is not there.
    std::string header(std::string_view name) const;
};

/// Sends bytes on a connection of its own and reads the answer.
HttpResult http_send(int port, std::string_view bytes);

/// A plain request. @param more header lines, each with its line end
HttpResult http_get(int port,
                    std::string_view target,
                    std::string_view more = "",
                    std::string_view method = "GET");

}  // namespace linewood::testing
