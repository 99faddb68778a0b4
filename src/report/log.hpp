#pragma once

#include <cstdint>
#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>

namespace linewood {

enum class LogForm : std::uint8_t { text, json };

/// Messages to the person, or the program, that started the run: to standard error, never to
/// standard output. As JSON: one object a line, with the time (UTC), the level and a stable code.
class Log {
public:
    Log(LogForm form, bool quiet) : form_{form}, quiet_{quiet} {}

    LogForm form() const { return form_; }
    bool quiet() const { return quiet_; }

    /// Always shown.
    void error(std::string_view code, std::string_view message) const;
    void warning(std::string_view code, std::string_view message) const;
    /// Not shown when quiet.
    void note(std::string_view code, std::string_view message) const;
    /// A line of JSON that is not a message: only in JSON form. `json_fields` is the inside of an
    /// object, without braces.
    void event(std::string_view code, std::string_view json_fields) const;

private:
    void write(std::string_view level, std::string_view code, std::string_view message) const;

    LogForm form_;
    bool quiet_;
};

/// `text` as a JSON string, with its quotes; bytes that are no UTF-8 become U+FFFD.
std::string json_string(std::string_view text);

}  // namespace linewood
