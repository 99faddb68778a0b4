#pragma once

// Private to geo/io: the head of a FlatGeobuf file (magic bytes and the FlatBuffers table `Header` of
// flatgeobuf.org's header.fbs, version 3).

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include <ogr_core.h>

namespace linewood {

/// Types of a column, as header.fbs numbers them.
enum class FgbType : std::uint8_t {
    boolean = 2,
    int32 = 5,
    int64 = 7,
    real = 10,
    text = 11,
    json = 12,
    binary = 14
};

/// A head that OGR wrote for a layer without features, and the same for one with features.
class FgbHeader {
public:
    /// @param file all bytes of a file that OGR has just written.
    /// @return false where it is not understood.
    bool read(std::string file);

    /// Of each column.
    const std::vector<FgbType>& types() const { return types_; }

    /// The head for so many features in `box`. Its length does not depend on them.
    /// @param node_size 0 = the file has no index.
    std::string with(std::uint64_t features, const OGREnvelope& box, std::uint16_t node_size) const;

private:
    std::string magic_;
    std::string table_;  ///< with the four bytes of its size, at which FlatBuffers aligns
    std::vector<FgbType> types_;
    std::size_t name_ = 0, columns_ = 0, crs_ = 0;  ///< positions in `table_`, 0 = there is none
    char geometry_type_ = 0, has_z_ = 0, has_m_ = 0;
};

}  // namespace linewood
