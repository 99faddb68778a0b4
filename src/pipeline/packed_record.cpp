#include "src/pipeline/packed_record.hpp"

#include <stdexcept>
#include <type_traits>

namespace linewood {
namespace {

constexpr std::uint16_t kDateBit = 1U << 15U;
constexpr std::uint16_t kBadDateBit = 1U << 14U;  // of an inspection

/// Calls `use` for every number of a record, in an order of their own.
template <typename Record, typename Use>
void each_number(Record& r, Use use) {
    if constexpr (std::is_same_v<std::remove_const_t<Record>, Inspection>) {
        use(r.original_circumference);
        use(r.original_height);
        use(r.present_circumference);
    } else {
        use(r.height);
        use(r.azimuth);
        use(r.width);
        use(r.depth);
        use(r.extent);
        use(r.shell_thickness);
        use(r.bore_angle);
        use(r.present_circumference);
    }
}

/// The same for every word, answer or mark; there are at most six.
template <typename Record, typename Use>
void each_word(Record& r, Use use) {
    if constexpr (std::is_same_v<std::remove_const_t<Record>, Inspection>) {
        use(r.method);
        use(r.damage);
        use(r.climb_safe);
        use(r.decay_below_excavation);
        use(r.treated);
    } else {
        use(r.kind);
        use(r.cause);
        use(r.position);
        use(r.bore_from);
    }
    use(r.unreadable);
}

template <typename Record>
PackedRecord packed_record(const Record& record, std::vector<double>& numbers) {
    if (numbers.size() > 0xFFFFFF00U) {
        throw std::length_error{"the records together hold more than 4 billion numbers"};
    }
    PackedRecord out;
    out.fid = record.fid;
    out.first_number = static_cast<std::uint32_t>(numbers.size());
    if (record.inspected_on) {
        out.date = *record.inspected_on;
        out.present = kDateBit;
    }
    if constexpr (std::is_same_v<Record, Inspection>) {
        if (record.date_unreadable) {
            out.present = static_cast<std::uint16_t>(out.present | kBadDateBit);
        }
    }
    unsigned bit = 1;
    each_number(record, [&](const auto& number) {
        if (number) {
            out.present = static_cast<std::uint16_t>(out.present | bit);
            numbers.push_back(number->raw());
        }
        bit <<= 1U;
    });
    std::size_t word = 0;
    each_word(record, [&](const auto& w) { out.words[word++] = static_cast<std::uint8_t>(w); });
    return out;
}

template <typename Record>
void unpack_record(const PackedRecord& from, const std::vector<double>& numbers, Record& record) {
    record = Record{};
    record.fid = from.fid;
    if ((from.present & kDateBit) != 0) {
        record.inspected_on = from.date;
    }
    if constexpr (std::is_same_v<Record, Inspection>) {
        record.date_unreadable = (from.present & kBadDateBit) != 0;
    }
    unsigned bit = 1;
    std::size_t next = from.first_number;
    each_number(record, [&](auto& number) {
        using Quantity = std::remove_cvref_t<decltype(*number)>;
        if ((from.present & bit) != 0) {
            number = Quantity::from_raw(numbers[next++]);
        }
        bit <<= 1U;
    });
    std::size_t word = 0;
    each_word(record, [&](auto& w) {
        w = static_cast<std::remove_reference_t<decltype(w)>>(from.words[word++]);
    });
}

}  // namespace

PackedRecord packed(const Inspection& record, std::vector<double>& numbers) {
    return packed_record(record, numbers);
}
PackedRecord packed(const Defect& record, std::vector<double>& numbers) {
    return packed_record(record, numbers);
}
void unpack(const PackedRecord& from, const std::vector<double>& numbers, Inspection& record) {
    unpack_record(from, numbers, record);
}
void unpack(const PackedRecord& from, const std::vector<double>& numbers, Defect& record) {
    unpack_record(from, numbers, record);
}

}  // namespace linewood
