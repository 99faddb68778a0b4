#include "src/job/strict_json.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include <fmt/format.h>

#include "src/job/job_error.hpp"
#include "src/job/nearest_word.hpp"

namespace linewood {
namespace {

using nlohmann::json;

std::string joined(std::string_view path, std::string_view key) {
    return path.empty() ? std::string{key} : fmt::format("{}.{}", path, key);
}

std::string quoted_list(std::span<const std::string_view> words) {
    return fmt::format("\"{}\"", fmt::join(words, "\", \""));
}

/// `parse error at line 3, column 7: unexpected ...`: without what the parser was at just then.
std::string in_plain_words(std::string_view message) {
    constexpr std::string_view kWhile = "syntax error while parsing ";
    constexpr std::string_view kThen = " - ";
    std::string text{message};
    const std::size_t from = text.find(kWhile);
    const std::size_t to = from == std::string::npos ? from : text.find(kThen, from);
    if (to != std::string::npos) {
        text.erase(from, to + kThen.size() - from);
    }
    return text;
}

bool is_control(char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; }

/// The value as it would be written, cut short where it is long.
std::string shown(const json& value) {
    constexpr std::size_t kMost = 60;
    std::string text = value.is_object() ? "an object"
                       : value.is_array()
                           ? "a list"
                           : value.dump(-1, ' ', true, json::error_handler_t::replace);
    if (text.size() > kMost) {
        text = text.substr(0, kMost) + "...";
    }
    return text;
}

/// More than any file for people needs; those that read it go down level by level.
constexpr std::size_t kMostDepth = 60;

/// Follows the parser to notice keys given twice, which the library would merge in silence, and bottomless nesting.
class DuplicateWatch {
public:
    bool operator()(int /*depth*/, json::parse_event_t event, json& parsed) {
        switch (event) {
            case json::parse_event_t::object_start:
                enter(false);
                break;
            case json::parse_event_t::array_start:
                enter(true);
                break;
            case json::parse_event_t::value:
                count_item();
                break;
            case json::parse_event_t::key:
                key(parsed.get<std::string>());
                break;
            case json::parse_event_t::object_end:
            case json::parse_event_t::array_end:
                open_.pop_back();
                break;
        }
        return true;
    }

    /// Where the parser is at, with a colon behind: `prices[0].cost: `; empty at the top.
    std::string place() const {
        const std::string path = this->path(open_.empty() || !open_.back().is_array ? 0 : 1);
        return path.empty() ? path : path + ": ";
    }

private:
    struct Open {
        bool is_array = false;
        std::size_t items = 0;
        std::string last_key;
        std::set<std::string> keys;
    };

    void count_item() {
        if (!open_.empty() && open_.back().is_array) {
            ++open_.back().items;
        }
    }
    void enter(bool is_array) {
        count_item();
        if (open_.size() == kMostDepth) {
            throw JobError(fmt::format("{}: nested more than {} deep", path(), kMostDepth));
        }
        open_.push_back({is_array, 0, {}, {}});
    }
    void key(std::string name) {
        Open& object = open_.back();
        object.last_key = name;
        if (!object.keys.insert(std::move(name)).second) {
            throw JobError(fmt::format("{}: this key is given twice", path()));
        }
    }
    /// @param next 1: of the item of a list that is not counted yet.
    std::string path(std::size_t next = 0) const {
        std::string path;
        for (const Open& o : open_) {
            const std::size_t more = &o == &open_.back() ? next : 0;
            path = o.is_array ? fmt::format("{}[{}]", path, o.items + more - 1)
                              : joined(path, o.last_key);
        }
        return path;
    }

    std::vector<Open> open_;
};

}  // namespace

json parse_strict_json(std::string_view text,
                       std::string_view what,
                       std::size_t most_bytes,
                       JsonComments comments) {
    if (text.size() > most_bytes) {
        throw JobError(
            fmt::format("{}: {} bytes; at most {} are read", what, text.size(), most_bytes));
    }
    if (text.substr(0, 2) == "\xFF\xFE" || text.substr(0, 2) == "\xFE\xFF") {
        throw JobError(fmt::format("{}: this is text in UTF-16; save it as UTF-8", what));
    }
    DuplicateWatch watch;
    try {
        return json::parse(text, std::ref(watch), true, comments == JsonComments::allowed);
    } catch (const json::exception& e) {
        // The library's own text, without its leading tag.
        const std::string_view message = e.what();
        const std::size_t tag_end = message.find("] ");
        // A number out of range stands at a place in a document that is sound so far.
        constexpr int kNumberOverflow = 406;
        throw JobError(fmt::format(
            "{}: {}{}",
            what,
            e.id == kNumberOverflow ? watch.place() : std::string{},
            in_plain_words(tag_end == std::string_view::npos ? message
                                                             : message.substr(tag_end + 2))));
    } catch (const JobError& e) {
        throw JobError(fmt::format("{}: {}", what, e.what()));
    }
}

std::string JsonNode::path() const { return path_.empty() ? "(top level)" : path_; }

void JsonNode::fail(std::string_view message) const {
    throw JobError(fmt::format("{}: {}", path(), message));
}

void JsonNode::fail_value(std::string_view message) const {
    fail(fmt::format("{} {}", shown(*value_), message));
}

void JsonNode::must_be_object() const {
    if (!value_->is_object()) {
        fail_value("stands where an object { } is wanted");
    }
}

void JsonNode::only_keys(std::span<const std::string_view> known) const {
    must_be_object();
    for (const auto& [key, value] : value_->items()) {
        if (std::ranges::find(known, key) == known.end()) {
            const std::string advice = did_you_mean(key, known);
            fail(fmt::format(
                "unknown key \"{}\"{}; known here: {}", key, advice, quoted_list(known)));
        }
    }
}

std::optional<JsonNode> JsonNode::find(std::string_view key) const {
    must_be_object();
    const auto found = value_->find(key);
    if (found == value_->end()) {
        return std::nullopt;
    }
    return JsonNode{*found, joined(path_, key)};
}

JsonNode JsonNode::at(std::string_view key) const {
    auto found = find(key);
    if (!found) {
        fail(fmt::format("\"{}\" is missing", key));
    }
    return *std::move(found);
}

std::vector<JsonNode::Member> JsonNode::members(std::size_t most) const {
    must_be_object();
    if (value_->size() > most) {
        fail(fmt::format("{} keys; at most {} are read", value_->size(), most));
    }
    std::vector<Member> all;
    for (const auto& [key, value] : value_->items()) {
        all.push_back({key, JsonNode{value, joined(path_, key)}});
    }
    return all;
}

std::vector<JsonNode> JsonNode::items(std::size_t most) const {
    if (!value_->is_array()) {
        fail_value("stands where a list [ ] is wanted");
    }
    if (value_->size() > most) {
        fail(fmt::format("{} items; at most {} are read", value_->size(), most));
    }
    std::vector<JsonNode> all;
    for (std::size_t i = 0; i < value_->size(); ++i) {
        all.push_back(JsonNode{(*value_)[i], fmt::format("{}[{}]", path_, i)});
    }
    return all;
}

const std::string& JsonNode::any_text(std::size_t most_bytes) const {
    if (!value_->is_string()) {
        fail_value("stands where text is wanted");
    }
    const auto& text = value_->get_ref<const std::string&>();
    if (text.size() > most_bytes) {
        fail(fmt::format("the text has {} bytes; at most {} are read", text.size(), most_bytes));
    }
    return text;
}

std::string JsonNode::free_text(std::size_t most_bytes) const {
    std::string text = any_text(most_bytes);
    std::replace_if(text.begin(), text.end(), is_control, ' ');
    return text;
}

std::string JsonNode::text(std::size_t most_bytes) const {
    const std::string& text = any_text(most_bytes);
    if (text.find_first_not_of(' ') == std::string::npos) {
        fail("the text is empty");
    }
    if (std::ranges::any_of(text, is_control)) {
        fail_value("holds a control character");
    }
    return text;
}

double JsonNode::number(double least, double most) const {
    if (!value_->is_number()) {
        fail_value("stands where a number is wanted");
    }
    const double v = value_->get<double>();
    if (!(v >= least && v <= most)) {
        fail_value(fmt::format("is out of range: {} to {} is wanted", least, most));
    }
    return v;
}

bool JsonNode::boolean() const {
    if (!value_->is_boolean()) {
        fail_value("stands where true or false is wanted");
    }
    return value_->get<bool>();
}

std::size_t JsonNode::choice(std::span<const std::string_view> words) const {
    const std::string word = text(1000);
    const auto found = std::ranges::find(words, word);
    if (found == words.end()) {
        fail_value(
            fmt::format("is not one of {}{}", quoted_list(words), did_you_mean(word, words)));
    }
    return static_cast<std::size_t>(found - words.begin());
}

}  // namespace linewood
