#include "geo/io/json_tokens.h"

namespace linewood {
namespace {

constexpr std::size_t kPiece = std::size_t{1} << 16U;
constexpr int kEnd = -1;

bool is_space(int c) {
    // A record separator parts the texts of a sequence; a byte order mark may stand in front.
    return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == 0x1E || c == 0xEF || c == 0xBB ||
           c == 0xBF;
}

bool ends_word(int c) {
    return c == kEnd || is_space(c) || c == ',' || c == ':' || c == '{' || c == '}' || c == '[' ||
           c == ']' || c == '"';
}

}  // namespace

JsonTokens::JsonTokens(std::istream& in, std::int64_t line)
    : in_{&in}, buffer_(kPiece), line_{line}, token_line_{line} {}

JsonTokens::JsonTokens(std::string_view text, std::int64_t line)
    : piece_{text}, line_{line}, token_line_{line} {}

int JsonTokens::peek() {
    if (at_ == piece_.size()) {
        if (in_ == nullptr) {
            return kEnd;
        }
        in_->read(buffer_.data(), static_cast<std::streamsize>(buffer_.size()));
        piece_ = {buffer_.data(), static_cast<std::size_t>(in_->gcount())};
        at_ = 0;
        if (piece_.empty()) {
            return kEnd;
        }
    }
    return static_cast<unsigned char>(piece_[at_]);
}

void JsonTokens::step() {
    line_ += piece_[at_] == '\n' ? 1 : 0;
    ++at_;
}

JsonToken JsonTokens::next() {
    int c = peek();
    while (is_space(c)) {
        step();
        c = peek();
    }
    token_line_ = line_;
    last_ = read(c);
    take_record(last_);
    return last_;
}

JsonToken JsonTokens::read(int c) {
    switch (c) {
        case kEnd:
            return JsonToken::end;
        case '{':
            step();
            return JsonToken::open_object;
        case '}':
            step();
            return JsonToken::close_object;
        case '[':
            step();
            return JsonToken::open_array;
        case ']':
            step();
            return JsonToken::close_array;
        case ',':
            step();
            return JsonToken::comma;
        case ':':
            step();
            return JsonToken::colon;
        case '"':
        case '\'':
            step();
            read_text(c);
            return JsonToken::text;
        default:
            read_bare();
            return JsonToken::bare;
    }
}

void JsonTokens::read_text(int quote) {
    word_.clear();
    nul_ = false;
    std::size_t zeros = 0;  // of an escaped 0, with its first two characters
    bool escaped = false;
    for (int c = peek(); c != kEnd; c = peek()) {
        step();
        if (c == quote && !escaped) {
            return;
        }
        if (word_.size() < kept_) {
            word_ += static_cast<char>(c);
        }
        if (escaped) {
            zeros = c == 'u' ? 2 : 0;
        } else {
            zeros = zeros >= 2 && c == '0' ? zeros + 1 : 0;
        }
        constexpr std::size_t kEscape = 6;
        nul_ = nul_ || c == 0 || zeros == kEscape;
        escaped = c == '\\' && !escaped;
    }
}

void JsonTokens::read_bare() {
    word_.clear();
    for (int c = peek(); !ends_word(c); c = peek()) {
        if (word_.size() < kept_) {
            word_ += static_cast<char>(c);
        }
        step();
    }
}

void JsonTokens::start_record() {
    record_.clear();
    recording_ = true;
    take_record(last_);
}

void JsonTokens::take_record(JsonToken token) {
    if (!recording_ || record_.size() >= kKept) {
        return;
    }
    constexpr std::string_view kSigns{"{}[],:"};
    if (token == JsonToken::text) {
        record_ += '"' + word_ + '"';
    } else if (token == JsonToken::bare) {
        record_ += word_;
    } else if (token != JsonToken::end) {
        record_ += kSigns[static_cast<std::size_t>(token)];
    }
    if (record_.size() > kKept) {
        record_.resize(kKept);
    }
}

}  // namespace linewood
