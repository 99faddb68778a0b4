#pragma once

#include <cstdint>
#include <span>
#include <utility>
#include <vector>

#include "assess/record/release.hpp"
#include "src/pipeline/packed_record.hpp"

namespace linewood {

/// Records of one kind by pole: those of one pole stand side by side, in the order they were read.
template <typename Record>
class ByPole {
public:
    /// Room for so many, where it is known: a vector that grows holds up to twice what it needs.
    void reserve(std::int64_t rows) {
        if (rows > 0) {
            poles_.reserve(static_cast<std::size_t>(rows));
            records_.reserve(static_cast<std::size_t>(rows));
        }
    }

    /// Records in the order read, with the pole of each (or PoleIndex::kNotFound).
    void add(std::uint32_t pole, const Record& record) {
        poles_.push_back(pole);
        records_.push_back(record);
    }

    /// The record of a row, before finish().
    Record& of_row(std::size_t row) { return records_[row]; }

    /// Sorts by pole, in place; those without a pole go to the end. Once, after the last add().
    void finish(std::size_t pole_count) {
        begins_.assign(pole_count + 1, 0);
        for (const std::uint32_t pole : poles_) {
            if (pole < pole_count) {
                ++begins_[pole + 1];
            }
        }
        for (std::size_t i = 1; i < begins_.size(); ++i) {
            begins_[i] += begins_[i - 1];
        }
        std::vector<std::uint32_t> next = begins_;
        std::uint32_t next_unknown = begins_.back();
        std::vector<std::uint32_t> target(poles_.size());
        slot_of_row_.assign(poles_.size(), kNowhere);
        for (std::size_t row = 0; row < poles_.size(); ++row) {
            const bool known = poles_[row] < pole_count;
            target[row] = known ? next[poles_[row]]++ : next_unknown++;
            slot_of_row_[row] = known ? target[row] : kNowhere;
        }
        for (std::uint32_t i = 0; i < target.size(); ++i) {
            while (target[i] != i) {
                std::swap(records_[i], records_[target[i]]);
                std::swap(target[i], target[target[i]]);
            }
        }
    }

    /// Gives back what only slot() and pole() need.
    void drop_rows() {
        release(poles_);
        release(slot_of_row_);
    }

    std::span<const Record> of(std::size_t pole) const {
        return std::span{records_}.subspan(begins_[pole], begins_[pole + 1] - begins_[pole]);
    }
    /// Position of a pole's first record in the sorted order.
    std::uint32_t first_slot(std::size_t pole) const { return begins_[pole]; }
    /// Where the record of a row of the layer went; kNowhere where its pole is unknown.
    std::uint32_t slot(std::size_t row) const { return slot_of_row_[row]; }
    std::uint32_t pole(std::size_t row) const { return poles_[row]; }
    const Record& at(std::uint32_t slot) const { return records_[slot]; }
    std::size_t rows() const { return records_.size(); }
    /// Records whose pole is known: slots are below this.
    std::size_t sorted_size() const { return begins_.empty() ? 0 : begins_.back(); }

    static constexpr std::uint32_t kNowhere = 0xFFFFFFFF;

private:
    std::vector<Record> records_;
    std::vector<std::uint32_t> poles_;
    std::vector<std::uint32_t> begins_;
    std::vector<std::uint32_t> slot_of_row_;
};

/// The same of inspections or defects, packed; they are handed out as copies.
template <typename Record>
class PackedByPole {
public:
    static constexpr std::uint32_t kNowhere = ByPole<PackedRecord>::kNowhere;

    /// Of the numbers as many as there can be: what is not written to takes no memory, and a vector that grows is for a
    /// moment there twice.
    void reserve(std::int64_t rows) {
        records_.reserve(rows);
        if (rows > 0) {
            numbers_.reserve(static_cast<std::size_t>(rows) * kMostNumbers<Record>);
        }
    }
    void add(std::uint32_t pole, const Record& record) {
        records_.add(pole, packed(record, numbers_));
    }
    /// Changes the record of a row, before finish(): `change` is given it and leaves what is to be kept.
    template <typename Change>
    void change(std::size_t row, const Change& change) {
        Record record;
        unpack(records_.of_row(row), numbers_, record);
        change(record);
        records_.of_row(row) = packed(record, numbers_);
    }
    void finish(std::size_t pole_count) { records_.finish(pole_count); }
    void drop_rows() { records_.drop_rows(); }

    std::vector<Record> of(std::size_t pole) const {
        const std::span<const PackedRecord> all = records_.of(pole);
        std::vector<Record> out(all.size());
        for (std::size_t i = 0; i < all.size(); ++i) {
            unpack(all[i], numbers_, out[i]);
        }
        return out;
    }
    Record at(std::uint32_t slot) const {
        Record record;
        unpack(records_.at(slot), numbers_, record);
        return record;
    }
    std::uint32_t first_slot(std::size_t pole) const { return records_.first_slot(pole); }
    std::uint32_t slot(std::size_t row) const { return records_.slot(row); }
    std::uint32_t pole(std::size_t row) const { return records_.pole(row); }
    std::size_t rows() const { return records_.rows(); }
    std::size_t sorted_size() const { return records_.sorted_size(); }

private:
    ByPole<PackedRecord> records_;
    std::vector<double> numbers_;
};

using InspectionStore = PackedByPole<Inspection>;
using DefectStore = PackedByPole<Defect>;

}  // namespace linewood
