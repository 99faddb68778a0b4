#include "src/report/log.hpp"

#include <chrono>
#include <cstdio>

#include <fmt/chrono.h>
#include <fmt/format.h>

#include <nlohmann/json.hpp>

namespace linewood {
namespace {

std::string time_now() {
    const auto now = std::chrono::system_clock::now();
    return fmt::format("{:%Y-%m-%dT%H:%M:%SZ}",
                       fmt::gmtime(std::chrono::system_clock::to_time_t(now)));
}

void to_stderr(const std::string& line) { std::fwrite(line.data(), 1, line.size(), stderr); }

}  // namespace

std::string json_string(std::string_view text) {
    return nlohmann::json(text).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

void Log::error(std::string_view code, std::string_view message) const {
    write("error", code, message);
}

void Log::warning(std::string_view code, std::string_view message) const {
    write("warning", code, message);
}

void Log::note(std::string_view code, std::string_view message) const {
    if (!quiet_) {
        write("note", code, message);
    }
}

void Log::event(std::string_view code, std::string_view json_fields) const {
    if (form_ == LogForm::json) {
        to_stderr(fmt::format("{{\"time\":\"{}\",\"level\":\"info\",\"code\":{},{}}}\n",
                              time_now(),
                              json_string(code),
                              json_fields));
    }
}

void Log::write(std::string_view level, std::string_view code, std::string_view message) const {
    if (form_ == LogForm::json) {
        to_stderr(fmt::format("{{\"time\":\"{}\",\"level\":\"{}\",\"code\":{},\"message\":{}}}\n",
                              time_now(),
                              level,
                              json_string(code),
                              json_string(message)));
    } else {
        to_stderr(fmt::format(
            "linewood: {}{}\n", level == "note" ? "" : fmt::format("{}: ", level), message));
    }
}

}  // namespace linewood
