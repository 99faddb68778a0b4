#pragma once

#include <bit>
#include <cstdint>
#include <cstring>
#include <map>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace linewood::testing {

/// A second, plain way to read vector tiles, from the text of the specification 2.1. Throws for every byte
/// that is not as it says.
struct ReadFeature {
    std::optional<std::uint64_t> id;
    std::int64_t x = 0;
    std::int64_t y = 0;
    std::map<std::string, std::variant<std::string, double, bool>> properties;

    std::string text(const std::string& key) const {
        const auto found = properties.find(key);
        return found == properties.end() ? "" : std::get<std::string>(found->second);
    }
    double number(const std::string& key) const { return std::get<double>(properties.at(key)); }
};

struct ReadLayer {
    std::string name;
    std::uint64_t version = 1;
    std::uint64_t extent = 4096;
    std::vector<ReadFeature> features;
};

class WireReader {
public:
    explicit WireReader(std::string_view bytes) : bytes_{bytes} {}

    bool at_end() const { return bytes_.empty(); }
    std::uint64_t varint() {
        std::uint64_t value = 0;
        for (unsigned place = 0;; ++place) {
            const std::uint64_t byte = static_cast<unsigned char>(take(1).front());
            if (place > 9 || (place == 9 && byte > 1)) {
                throw std::runtime_error{"a varint of more than 64 bits"};
            }
            value += (byte % 128) << (7 * place);
            if (byte < 128) {
                return value;
            }
        }
    }
    std::string_view bytes() { return take(varint()); }
    template <typename Number, typename Bits>
    Number fixed() {
        Bits bits = 0;
        const std::string_view raw = take(sizeof(Bits));
        for (std::size_t i = sizeof(Bits); i-- > 0;) {
            bits = static_cast<Bits>(bits << 8) | static_cast<unsigned char>(raw[i]);
        }
        return std::bit_cast<Number>(bits);
    }
    /// Field number and wire type.
    std::pair<std::uint64_t, std::uint64_t> tag() {
        const std::uint64_t value = varint();
        return {value / 8, value % 8};
    }

private:
    std::string_view take(std::uint64_t count) {
        if (count > bytes_.size()) {
            throw std::runtime_error{"ends too early"};
        }
        const std::string_view taken = bytes_.substr(0, count);
        bytes_.remove_prefix(count);
        return taken;
    }
    std::string_view bytes_;
};

inline std::int64_t unzigzag(std::uint64_t value) {
    return value % 2 == 0 ? static_cast<std::int64_t>(value / 2)
                          : -static_cast<std::int64_t>(value / 2) - 1;
}

inline std::variant<std::string, double, bool> read_value(std::string_view bytes) {
    WireReader in{bytes};
    const auto [field, type] = in.tag();
    std::variant<std::string, double, bool> value;
    if (field == 1 && type == 2) {
        value = std::string{in.bytes()};
    } else if (field == 2 && type == 5) {
        value = static_cast<double>(in.fixed<float, std::uint32_t>());
    } else if (field == 3 && type == 1) {
        value = in.fixed<double, std::uint64_t>();
    } else if (field == 5 && type == 0) {
        value = static_cast<double>(in.varint());
    } else if (field == 6 && type == 0) {
        value = static_cast<double>(unzigzag(in.varint()));
    } else if (field == 7 && type == 0) {
        value = in.varint() == 1;
    } else {
        throw std::runtime_error{"no such kind of value"};
    }
    if (!in.at_end()) {
        throw std::runtime_error{"a value of several kinds"};
    }
    return value;
}

inline std::vector<std::uint64_t> read_packed(std::string_view bytes) {
    WireReader in{bytes};
    std::vector<std::uint64_t> out;
    while (!in.at_end()) {
        out.push_back(in.varint());
    }
    return out;
}

class LayerReading {
public:
    ReadLayer read(std::string_view bytes) {
        WireReader in{bytes};
        while (!in.at_end()) {
            const auto [field, type] = in.tag();
            if (field == 1 && type == 2) {
                layer_.name = in.bytes();
            } else if (field == 2 && type == 2) {
                features_.push_back(in.bytes());
            } else if (field == 3 && type == 2) {
                keys_.emplace_back(in.bytes());
            } else if (field == 4 && type == 2) {
                values_.push_back(read_value(in.bytes()));
            } else if (field == 5 && type == 0) {
                layer_.extent = in.varint();
            } else if (field == 15 && type == 0) {
                layer_.version = in.varint();
            } else {
                throw std::runtime_error{"no such field of a layer"};
            }
        }
        for (const std::string_view feature : features_) {
            layer_.features.push_back(read_feature(feature));
        }
        return layer_;
    }

private:
    ReadFeature read_feature(std::string_view bytes) const {
        WireReader in{bytes};
        ReadFeature out;
        std::vector<std::uint64_t> tags;
        std::vector<std::uint64_t> geometry;
        std::uint64_t kind = 0;
        while (!in.at_end()) {
            const auto [field, type] = in.tag();
            if (field == 1 && type == 0) {
                out.id = in.varint();
            } else if (field == 2 && type == 2) {
                tags = read_packed(in.bytes());
            } else if (field == 3 && type == 0) {
                kind = in.varint();
            } else if (field == 4 && type == 2) {
                geometry = read_packed(in.bytes());
            } else {
                throw std::runtime_error{"no such field of a feature"};
            }
        }
        if (kind != 1 || geometry.size() != 3 || geometry[0] != 9 || tags.size() % 2 != 0) {
            throw std::runtime_error{"no single point"};
        }
        out.x = unzigzag(geometry[1]);
        out.y = unzigzag(geometry[2]);
        for (std::size_t i = 0; i < tags.size(); i += 2) {
            if (!out.properties.emplace(keys_.at(tags[i]), values_.at(tags[i + 1])).second) {
                throw std::runtime_error{"a property twice"};
            }
        }
        return out;
    }

    ReadLayer layer_;
    std::vector<std::string_view> features_;
    std::vector<std::string> keys_;
    std::vector<std::variant<std::string, double, bool>> values_;
};

/// A tile of exactly one layer.
inline ReadLayer read_tile(std::string_view bytes) {
    WireReader in{bytes};
    if (in.tag() != std::pair<std::uint64_t, std::uint64_t>{3, 2}) {
        throw std::runtime_error{"no layer"};
    }
    const std::string_view layer = in.bytes();
    if (!in.at_end()) {
        throw std::runtime_error{"more than a layer"};
    }
    return LayerReading{}.read(layer);
}

}  // namespace linewood::testing
