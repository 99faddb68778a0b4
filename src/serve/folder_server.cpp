// The only file that sees the HTTP library, which takes long to compile.

#include "src/serve/folder_server.hpp"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <map>
#include <thread>
#include <utility>

#include <httplib.h>
#include <sys/socket.h>
#include <unistd.h>

#include "geo/io/data_error.hpp"
#include "src/serve/connection_pool.hpp"
#include "src/serve/file_answer.hpp"

namespace linewood {
namespace {

constexpr std::size_t kPiece = 64 * 1024;

/// What the library reads is the cleaned request, what it writes goes to the client.
class CleanStream : public httplib::Stream {
public:
    CleanStream(std::string request, ClientSocket& client, int socket)
        : request_{std::move(request)}, client_{client}, socket_{socket} {}

    bool is_readable() const override { return taken_ < request_.size(); }
    bool is_writable() const override { return true; }
    ssize_t read(char* to, std::size_t size) override {
        const std::size_t count = request_.copy(to, size, taken_);
        taken_ += count;
        return static_cast<ssize_t>(count);
    }
    ssize_t write(const char* bytes, std::size_t size) override {
        return client_.write({bytes, size}) ? static_cast<ssize_t>(size) : -1;
    }
    void get_remote_ip_and_port(std::string& /*ip*/, int& /*port*/) const override {}
    void get_local_ip_and_port(std::string& /*ip*/, int& /*port*/) const override {}
    socket_t socket() const override { return socket_; }

private:
    std::string request_;
    std::size_t taken_ = 0;
    ClientSocket& client_;
    int socket_;
};

/// The library's queue, which is the pool.
class PoolQueue : public httplib::TaskQueue {
public:
    explicit PoolQueue(ConnectionPool& pool) : pool_{pool} {}
    void enqueue(std::function<void()> job) override { pool_.run(std::move(job)); }
    void shutdown() override { pool_.stop(); }

private:
    ConnectionPool& pool_;
};

void fill(httplib::Response& response, HttpAnswer answer) {
    response.status = answer.status;
    for (const auto& [name, value] : answer.headers) {
        response.set_header(name, value);
    }
    const std::uint64_t bytes = answer.bytes();
    if (bytes == 0) {
        if (answer.status == 200) {
            response.set_content("", answer.media_type);
        }
        return;
    }
    const std::string media_type = answer.media_type;
    response.set_content_provider(
        bytes,
        media_type,
        [held = std::make_shared<const HttpAnswer>(std::move(answer))](
            std::size_t offset, std::size_t length, httplib::DataSink& sink) {
            const std::string piece = held->piece(offset, std::min(length, kPiece));
            return !piece.empty() && sink.write(piece.data(), piece.size());
        });
}

std::string host_in_url(const std::string& address) {
    return address.find(':') == std::string::npos ? address : "[" + address + "]";
}

}  // namespace

class FolderServer::Library : public httplib::Server {
public:
    explicit Library(const ServeOptions& options)
        : options_{options},
          folder_{options.folder},
          host_{host_names(options)},
          pool_{options.connections} {
        new_task_queue = [this] { return new PoolQueue{pool_}; };
        set_pre_routing_handler(
            [this](const httplib::Request& request, httplib::Response& response) {
                fill(response, answer_to(request.target));
                return HandlerResponse::Handled;
            });
        listen_at(options);
    }

    ~Library() override { stop_all(); }

    int port() const { return port_; }
    std::string url() const {
        return "http://" + host_in_url(options_.address) + ":" + std::to_string(port_) + "/";
    }

    void start() {
        listener_ = std::thread{[this] { listen_after_bind(); }};
        while (!is_running()) {
            std::this_thread::sleep_for(std::chrono::milliseconds{1});
        }
    }
    void stop_all() {
        stop();
        if (listener_.joinable()) {
            listener_.join();
        }
        pool_.stop();
    }

private:
    static std::vector<std::string> host_names(const ServeOptions& options) {
        std::vector<std::string> names = options.names;
        names.push_back(options.address);
        return names;
    }

    void listen_at(const ServeOptions& options) {
        // The library would share the port with another program that shares it as well.
        set_socket_options([](socket_t socket) {
            const int yes = 1;
            ::setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
        });
        port_ = options.port == 0                             ? bind_to_any_port(options.address)
                : bind_to_port(options.address, options.port) ? options.port
                                                              : -1;
        if (port_ <= 0) {
            throw DataError{
                options.address + ":" + std::to_string(options.port),
                "",
                "cannot be listened on: another program has the port, or the address is "
                "not this machine's; --port 0 takes any port that is free"};
        }
        // The library lets five clients wait.
        ::listen(svr_sock_, SOMAXCONN);
    }

    bool process_and_close_socket(socket_t socket) override {
        {
            ConnectionPool::Turn turn{pool_, socket};
            if (!turn.refused()) {
                try {
                    serve(socket, turn);
                } catch (const std::exception&) {
                    // No memory for this one; the next may have some.
                }
            }
        }
        ::close(socket);
        return true;
    }

    void serve(int socket, ConnectionPool::Turn& turn) {
        ClientSocket client{socket, options_.limits};
        std::string head;
        const ClientSocket::Heard heard = client.read_head(head);
        if (heard == ClientSocket::Heard::gone) {
            return;
        }
        turn.answering();
        const auto request =
            heard == ClientSocket::Heard::all ? read_request_head(head) : std::nullopt;
        if (heard == ClientSocket::Heard::too_slow) {
            pass_to_library(client, socket, "GET", short_answer(408, "the request took too long"));
        } else if (heard == ClientSocket::Heard::too_large) {
            pass_to_library(client, socket, "GET", short_answer(431, "the request is too long"));
        } else if (!request) {
            pass_to_library(client, socket, "GET", short_answer(400, "this is no request"));
        } else {
            pass_to_library(client,
                            socket,
                            request->method == "HEAD" ? "HEAD" : "GET",
                            answer_request(*request, folder_, host_));
        }
        client.finish();
    }

    /// Has the library write an answer that is made already: it reads a request for the answer's number.
    void pass_to_library(ClientSocket& client, int socket, const char* method, HttpAnswer answer) {
        const std::string target = "/" + std::to_string(keep(std::move(answer)));
        CleanStream stream{
            std::string{method} + " " + target + " HTTP/1.1\r\nConnection: close\r\n\r\n",
            client,
            socket};
        bool closed = true;
        process_request(stream, true, closed, {});
        const std::lock_guard lock{mutex_};
        answers_.erase(target);
    }

    std::uint64_t keep(HttpAnswer answer) {
        const std::lock_guard lock{mutex_};
        const std::uint64_t number = next_++;
        answers_.emplace("/" + std::to_string(number), std::move(answer));
        return number;
    }

    HttpAnswer answer_to(const std::string& target) {
        const std::lock_guard lock{mutex_};
        const auto found = answers_.find(target);
        return found == answers_.end() ? short_answer(404, "there is no such file")
                                       : std::move(found->second);
    }

    ServeOptions options_;
    ServedFolder folder_;
    HostCheck host_;
    ConnectionPool pool_;
    int port_ = -1;
    std::thread listener_;
    std::mutex mutex_;
    std::map<std::string, HttpAnswer> answers_;  ///< made, and not yet taken up by the library
    std::uint64_t next_ = 0;
};

FolderServer::FolderServer(const ServeOptions& options)
    : library_{std::make_unique<Library>(options)} {}

FolderServer::~FolderServer() = default;

int FolderServer::port() const { return library_->port(); }

std::string FolderServer::url() const { return library_->url(); }

void FolderServer::start() { library_->start(); }

void FolderServer::stop() { library_->stop_all(); }

}  // namespace linewood
