#include "src/pipeline/pole_index.hpp"

#include <functional>
#include <stdexcept>

namespace linewood {

std::size_t PoleIndex::slot_of(std::string_view wanted) const {
    const std::size_t mask = slots_.size() - 1;
    std::size_t slot = std::hash<std::string_view>{}(wanted)&mask;
    while (slots_[slot] != kNotFound && id(slots_[slot]) != wanted) {
        slot = (slot + 1) & mask;
    }
    return slot;
}

void PoleIndex::grow() {
    const std::vector<std::uint32_t> old = std::move(slots_);
    slots_.assign(old.empty() ? 1024 : old.size() * 2, kNotFound);
    for (const std::uint32_t pole : old) {
        if (pole != kNotFound) {
            slots_[slot_of(id(pole))] = pole;
        }
    }
}

std::uint32_t PoleIndex::add(std::string_view id) {
    const std::uint32_t pole = size();
    if (text_.size() + id.size() > 0xFFFFFFFFU) {
        throw std::length_error{"the pole ids together are longer than 4 GiB"};
    }
    text_.append(id);
    begins_.push_back(static_cast<std::uint32_t>(text_.size()));
    if (id.empty()) {
        return kNotFound;
    }
    if (static_cast<std::size_t>(used_ + 1) * 2 > slots_.size()) {
        grow();
    }
    std::uint32_t& slot = slots_[slot_of(id)];
    if (slot != kNotFound) {
        return slot;
    }
    slot = pole;
    ++used_;
    return kNotFound;
}

std::uint32_t PoleIndex::find(std::string_view id) const {
    return id.empty() || slots_.empty() ? kNotFound : slots_[slot_of(id)];
}

std::string_view PoleIndex::id(std::uint32_t pole) const {
    return std::string_view{text_}.substr(begins_[pole], begins_[pole + 1] - begins_[pole]);
}

void PoleIndex::drop_lookup() {
    slots_.clear();
    slots_.shrink_to_fit();
}

}  // namespace linewood
