#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "assess/record/defect.hpp"
#include "assess/record/inspection.hpp"
#include "assess/units/date.hpp"

namespace linewood {

/// An inspection or a defect as it is held between reading and assessing: 24 bytes, and 8 for each
/// number that was recorded. Most numbers are not, and there are millions of records.
struct PackedRecord {
    std::int64_t fid = -1;
    std::uint32_t first_number = 0;  ///< into the numbers of all records
    Date date;                       ///< counts only where the date's bit is set
    std::uint16_t present =
        0;  ///< a bit for each number, in their order; the highest two: the date
    std::array<std::uint8_t, 6> words{};
};
static_assert(sizeof(PackedRecord) == 24);

/// Numbers that one record can have.
template <typename Record>
inline constexpr std::size_t kMostNumbers = 0;
template <>
inline constexpr std::size_t kMostNumbers<Inspection> = 3;
template <>
inline constexpr std::size_t kMostNumbers<Defect> = 8;

/// Appends the record's numbers to `numbers`. @throws std::length_error past 4 billion of them.
PackedRecord packed(const Inspection& record, std::vector<double>& numbers);
PackedRecord packed(const Defect& record, std::vector<double>& numbers);

/// The record, to the last bit.
void unpack(const PackedRecord& from, const std::vector<double>& numbers, Inspection& record);
void unpack(const PackedRecord& from, const std::vector<double>& numbers, Defect& record);

}  // namespace linewood
