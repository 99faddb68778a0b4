#pragma once

#include <cstddef>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "src/serve/client_socket.hpp"

namespace linewood {

/// Where and how a folder is served.
struct ServeOptions {
    std::filesystem::path folder;
    std::string address = "127.0.0.1";
    int port = 0;  ///< 0: any that is free
    std::vector<std::string> names =
        {};                        ///< by which it may be called beside the address and localhost
    std::size_t connections = 64;  ///< at once
    ClientLimits limits = {};
};

/// A published folder over HTTP, for looking at it: GET and HEAD of the files in it, one request a connection.
///
/// The library does the listening and the writing of answers. What comes from clients is read and cleaned here
/// first, with an end to every wait and to every length, and the library sees a request of three short lines.
class FolderServer {
public:
    /// Listens from now on. @throws DataError where the folder cannot be read, or the address or port cannot be had.
    explicit FolderServer(const ServeOptions& options);
    ~FolderServer();
    FolderServer(const FolderServer&) = delete;
    FolderServer& operator=(const FolderServer&) = delete;

    int port() const;
    /// `http://127.0.0.1:8080/`
    std::string url() const;
    /// Begins to answer, in threads of its own.
    void start();
    /// Cuts what is going on and waits for the threads. Harmless where it has not started.
    void stop();

private:
    class Library;
    std::unique_ptr<Library> library_;
};

}  // namespace linewood
