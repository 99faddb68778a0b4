#include "src/report/terminal_monitor.hpp"

#include <algorithm>
#include <cstdio>

#include <fmt/format.h>
#include <unistd.h>

namespace linewood {
namespace {

// Set by the signal handler; the only thing a handler may safely do.
volatile std::sig_atomic_t interrupted = 0;

constexpr std::int64_t kBarWidth = 30;
constexpr std::chrono::milliseconds kBetweenDraws{100};

/// `, 1 min 20 s left`; nothing where it is too early to say.
std::string time_left(std::chrono::duration<double> since, std::int64_t done, std::int64_t total) {
    constexpr double kSoon = 2.0;
    if (done <= 0 || done >= total || since.count() < kSoon) {
        return {};
    }
    const auto left = static_cast<std::int64_t>(
        since.count() * static_cast<double>(total - done) / static_cast<double>(done) + 0.5);
    return left < 60 ? fmt::format(", {} s left", left)
                     : fmt::format(", {} min {} s left", left / 60, left % 60);
}

}  // namespace

extern "C" {
static void note_interrupt(int /*signal*/) { interrupted = 1; }
}

void catch_interrupts() {
    struct sigaction action = {};
    action.sa_handler = note_interrupt;
    sigemptyset(&action.sa_mask);
    action.sa_flags = SA_RESTART;
    for (const int signal : {SIGINT, SIGTERM, SIGHUP}) {
        struct sigaction before = {};
        sigaction(signal, nullptr, &before);
        // Ignored by who started the program (nohup, a script's background job): it stays so.
        if (before.sa_handler != SIG_IGN) {
            sigaction(signal, &action, nullptr);
        }
    }
    // A file grown to the limit is then an error of writing, like a full disk, and no sudden end.
    std::signal(SIGXFSZ, SIG_IGN);
}

TerminalMonitor::TerminalMonitor(const Log& log)
    : log_{log}, bar_{log.form() == LogForm::text && !log.quiet() && isatty(STDERR_FILENO) == 1} {}

TerminalMonitor::~TerminalMonitor() { clear(); }

void TerminalMonitor::stage(std::string_view name, std::int64_t total) {
    stage_ = name;
    total_ = total;
    done_ = 0;
    begun_ = std::chrono::steady_clock::now();
    if (!log_.quiet()) {
        log_.event("stage", fmt::format("\"stage\":{},\"total\":{}", json_string(name), total));
    }
    draw();
    advance(0);
}

void TerminalMonitor::advance(std::int64_t steps) {
    if (interrupted != 0) {
        throw Interrupted{};
    }
    done_ += steps;
    const auto now = std::chrono::steady_clock::now();
    if (bar_ && now - last_draw_ >= kBetweenDraws) {
        draw();
    }
}

void TerminalMonitor::draw() {
    if (!bar_) {
        return;
    }
    last_draw_ = std::chrono::steady_clock::now();
    std::string line;
    if (total_ > 0) {
        const std::int64_t done = std::min(done_, total_);
        const std::int64_t filled = done * kBarWidth / total_;
        line = fmt::format("\r\x1b[K{:<30} [{:#<{}}{:.<{}}] {:3d} %{}",
                           stage_,
                           "",
                           filled,
                           "",
                           kBarWidth - filled,
                           done * 100 / total_,
                           time_left(last_draw_ - begun_, done, total_));
    } else {
        line = fmt::format("\r\x1b[K{} ...", stage_);
    }
    std::fwrite(line.data(), 1, line.size(), stderr);
    drawn_ = true;
}

void TerminalMonitor::clear() {
    if (drawn_) {
        std::fputs("\r\x1b[K", stderr);
        drawn_ = false;
    }
}

void TerminalMonitor::tell(const Finding& doubt) {
    clear();
    const std::string line =
        fmt::format("layer {}{}{}{}: {}",
                    name_of(doubt.layer),
                    doubt.field.empty() ? "" : fmt::format(", column {}", doubt.field),
                    doubt.value.empty() ? "" : ", ",
                    doubt.value,
                    doubt.message);
    switch (doubt.severity) {
        case Severity::error:
            log_.error(doubt.code, line);
            break;
        case Severity::warning:
            log_.warning(doubt.code, line);
            break;
        case Severity::note:
            log_.note(doubt.code, line);
            break;
    }
}

void TerminalMonitor::finish() { clear(); }

}  // namespace linewood
