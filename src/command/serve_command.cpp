#include "src/command/serve_command.hpp"

#include <array>
#include <csignal>
#include <cstdio>
#include <filesystem>

#include <signal.h>

#include "src/serve/folder_server.hpp"

#include <CLI/CLI.hpp>

namespace linewood {
namespace {

constexpr const char* kExamples =
    "Examples:\n"
    "  linewood serve site\n"
    "  linewood serve site --port 0\n"
    "\n"
    "Prints the address to open in a browser, and serves until it is stopped (Ctrl-C). Gives out\n"
    "the files in the folder and nothing else: no hidden files, no symbolic links, no lists of\n"
    "folders. Meant for looking at a site on this machine; to publish it, give the folder to a "
    "web\n"
    "server of your own.\n"
    "\n"
    "Exit codes: 0 stopped, 1 failed, 2 called wrongly.";

constexpr double kMostPort = 65535.0;

bool is_loopback(const std::string& address) {
    return address.starts_with("127.") || address == "::1" || address == "localhost";
}

/// The signals that stop the server, held back in all threads so that one of them can wait for them. Those that
/// were ignored before stay so.
sigset_t hold_back_signals() {
    sigset_t held;
    sigemptyset(&held);
    for (const int number : {SIGINT, SIGTERM, SIGHUP}) {
        struct sigaction before = {};
        sigaction(number, nullptr, &before);
        if (before.sa_handler != SIG_IGN) {
            sigaddset(&held, number);
        }
    }
    pthread_sigmask(SIG_BLOCK, &held, nullptr);
    return held;
}

}  // namespace

CLI::App* ServeCommand::setup(CLI::App& program) {
    CLI::App* c = program.add_subcommand("serve", "A published folder over HTTP, to look at it");
    c->footer(kExamples);
    c->add_option("folder", folder_, "Folder that linewood publish wrote")
        ->type_name("FOLDER")
        ->required();
    allow_range(*c->add_option("--port", port_, "Port to listen on; 0 takes any that is free")
                     ->capture_default_str(),
                0.0,
                kMostPort);
    c->add_option("--address",
                  address_,
                  "Address to listen on; any other than this machine's own lets others in")
        ->capture_default_str();
    c->add_option("--host-name",
                  names_,
                  "Name that browsers may call the server by, beside the address; repeatable")
        ->type_name("NAME")
        ->allow_extra_args(false);
    talk_.add_to(*c);
    return c;
}

int ServeCommand::run() {
    const Log log = talk_.make_log();
    ServeOptions options;
    options.folder = folder_;
    options.address = address_;
    options.port = port_;
    options.names = names_;
    const sigset_t stopping = hold_back_signals();
    FolderServer server{options};
    if (!is_loopback(address_)) {
        log.warning("address",
                    "others on the network can read the folder at " + address_ +
                        ", without encryption or a password; leave --address out to keep it to "
                        "this machine");
    }
    server.start();
    std::printf("%s\n", server.url().c_str());
    std::fflush(stdout);
    if (!std::filesystem::exists(options.folder / "index.html")) {
        log.warning("folder",
                    folder_ + " has no index.html: is it one that linewood publish wrote?");
    }
    log.note("serving", "serving " + folder_ + " until it is stopped (Ctrl-C)");
    int number = 0;
    sigwait(&stopping, &number);
    server.stop();
    return kExitDone;
}

}  // namespace linewood
