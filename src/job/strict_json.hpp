#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include <nlohmann/json.hpp>

namespace linewood {

/// Whether `// ...` and `/* ... */` may stand in it.
enum class JsonComments : unsigned char { refused, allowed };

/// Reads JSON that people write by hand, so nothing is let pass: a key given twice, text that is not
/// UTF-8, a number out of range, anything over `most_bytes`. `what` names the file in the message.
/// @throws JobError with line and column, or with the path of the key given twice.
nlohmann::json parse_strict_json(std::string_view text,
                                 std::string_view what,
                                 std::size_t most_bytes,
                                 JsonComments comments = JsonComments::refused);

/// One value of such a document together with where it stands, so that every complaint can name the
/// path, the offending value and the nearest valid word. A view: the document must outlive it.
/// Every reader throws JobError where the value is not what was asked for.
class JsonNode {
public:
    explicit JsonNode(const nlohmann::json& document) : JsonNode{document, ""} {}

    /// `species[2].code`; `(top level)` for the document itself.
    std::string path() const;
    bool is_null() const { return value_->is_null(); }
    bool is_object() const { return value_->is_object(); }
    bool is_text() const { return value_->is_string(); }
    bool is_number() const { return value_->is_number(); }
    bool is_boolean() const { return value_->is_boolean(); }

    /// @throws JobError if this is no object, or holds a key that is not in `known`.
    void only_keys(std::span<const std::string_view> known) const;
    /// The member of that key, or nothing. @throws JobError if this is no object.
    std::optional<JsonNode> find(std::string_view key) const;
    /// The member of that key. @throws JobError if there is none.
    JsonNode at(std::string_view key) const;

    struct Member;
    /// All members of an object, in the order of their keys.
    std::vector<Member> members(std::size_t most) const;
    /// All items of a list.
    std::vector<JsonNode> items(std::size_t most) const;

    /// Text of at most `most_bytes`, not blank, without control characters.
    std::string text(std::size_t most_bytes) const;
    /// Text of at most `most_bytes` that may be blank; control characters, as line breaks, become spaces.
    std::string free_text(std::size_t most_bytes) const;
    /// A number in [least, most].
    double number(double least, double most) const;
    /// Whatever its size; nothing where it is no number.
    std::optional<double> if_number() const {
        return value_->is_number() ? std::optional{value_->get<double>()} : std::nullopt;
    }
    bool boolean() const;
    /// Position in `words` of the text that stands here.
    std::size_t choice(std::span<const std::string_view> words) const;

    /// Throws JobError `<path>: <message>`.
    [[noreturn]] void fail(std::string_view message) const;
    /// Throws JobError `<path>: <value as it stands> <message>`.
    [[noreturn]] void fail_value(std::string_view message) const;

private:
    JsonNode(const nlohmann::json& value, std::string path)
        : value_{&value}, path_{std::move(path)} {}
    void must_be_object() const;
    const std::string& any_text(std::size_t most_bytes) const;

    const nlohmann::json* value_;
    std::string path_;
};

struct JsonNode::Member {
    std::string key;
    JsonNode value;
};

}  // namespace linewood
