#pragma once

#include <cstdint>
#include <string>

#include "sample-gis/writer.hpp"

namespace linewood::sample {

/// An existing network to invent inspections over. Empty names: the layer or field is not there, or has
/// the name the four layers have by themselves.
struct Network {
    std::string path;
    std::string poles = "poles";
    std::string spans = "spans";
    std::string id = "pole_id";  ///< where the layer has no such field, the FID is the id
    std::string from, to;        ///< fields of the spans with the ids of their ends
};

/// The coordinate system of its poles, as WKT; empty where there is none.
std::string crs_of(const Network& network);

/// Takes over ids, points and lines of a network and invents the rest: species, sizes and years, and two
/// years of inspections. Parts of multi-part lines become spans of their own.
/// @throws std::runtime_error where the network or a named layer or field cannot be read
void inspect_network(const Network& network, std::uint64_t seed, Writer& writer);

}  // namespace linewood::sample
