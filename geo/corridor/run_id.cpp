#include "geo/corridor/run_id.hpp"

#include <array>
#include <utility>

namespace linewood {

namespace {

struct Escape {
    char plain;
    std::string_view written;
};
constexpr std::array<Escape, 3> kEscapes{{{'~', "%7E"}, {'+', "%2B"}, {'%', "%25"}}};

void append_part(std::string& text, std::string_view part) {
    for (const char c : part) {
        std::string_view written;
        for (const Escape& escape : kEscapes) {
            if (escape.plain == c) {
                written = escape.written;
            }
        }
        if (written.empty()) {
            text += c;
        } else {
            text += written;
        }
    }
}

std::optional<std::string> read_part(std::string_view part) {
    std::string text;
    for (std::size_t i = 0; i < part.size(); ++i) {
        if (part[i] != '%') {
            text += part[i];
            continue;
        }
        bool known = false;
        for (const Escape& escape : kEscapes) {
            if (part.substr(i, escape.written.size()) == escape.written) {
                text += escape.plain;
                known = true;
            }
        }
        if (!known) {
            return std::nullopt;
        }
        i += 2;
    }
    return text;
}

std::vector<std::string_view> parted(std::string_view text, char at) {
    std::vector<std::string_view> parts;
    for (;;) {
        const std::size_t end = text.find(at);
        parts.push_back(text.substr(0, end));
        if (end == std::string_view::npos) {
            return parts;
        }
        text.remove_prefix(end + 1);
    }
}

}  // namespace

RunName run_name(const Runs& runs,
                 std::size_t run,
                 const LineGraph& graph,
                 std::span<const std::string_view> pole_ids,
                 std::span<const std::string_view> circuit_names) {
    const auto stops = runs.stops(run);
    RunName name;
    name.start = pole_ids[stops.front().pole];
    if (stops.size() > 1) {
        name.next = pole_ids[stops[1].pole];
    }
    name.end = runs.runs()[run].closed ? name.start : std::string{pole_ids[stops.back().pole]};
    for (const std::uint32_t circuit : graph.circuits(runs.runs()[run].circuits)) {
        name.circuits.emplace_back(circuit_names[circuit]);
    }
    return name;
}

std::string run_id(const RunName& name) {
    std::string id;
    append_part(id, name.start);
    id += '~';
    append_part(id, name.next);
    id += '~';
    append_part(id, name.end);
    id += '~';
    for (std::size_t i = 0; i < name.circuits.size(); ++i) {
        id += i == 0 ? "" : "+";
        append_part(id, name.circuits[i]);
    }
    return id;
}

std::optional<RunName> read_run_id(std::string_view id) {
    const std::vector<std::string_view> parts = parted(id, '~');
    if (parts.size() != 4) {
        return std::nullopt;
    }
    RunName name;
    const std::array<std::string*, 3> into{&name.start, &name.next, &name.end};
    for (std::size_t i = 0; i < into.size(); ++i) {
        std::optional<std::string> part = read_part(parts[i]);
        if (!part || parts[i].find('+') != std::string_view::npos) {
            return std::nullopt;
        }
        *into[i] = *std::move(part);
    }
    if (parts[3].empty()) {
        return name;
    }
    for (const std::string_view circuit : parted(parts[3], '+')) {
        std::optional<std::string> text = read_part(circuit);
        if (!text || text->empty()) {
            return std::nullopt;
        }
        name.circuits.push_back(*std::move(text));
    }
    return name;
}

}  // namespace linewood
