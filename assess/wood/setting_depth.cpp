#include "assess/wood/dimension_table.hpp"

namespace linewood {

// The trade's rule of thumb, 10 % of the length and 2 ft (lineman's handbook, as quoted), gives the same
// figures from 40 to 90 ft; the table stands where they differ.
const std::vector<SettingDepth>& published_setting_depths() {
    static const std::vector<SettingDepth> kDepths = [] {
        struct Row {
            double length_ft, depth_ft;
            std::string_view confidence;
        };
        constexpr std::string_view kRead = "read";
        constexpr std::string_view kTwo = "two sources";
        constexpr std::string_view kMemory = "memory";
        constexpr Row kRows[] = {
            {20, 4, kRead},     {25, 5, kTwo},      {30, 5.5, kTwo},    {35, 6, kTwo},
            {40, 6, kTwo},      {45, 6.5, kTwo},    {50, 7, kTwo},      {55, 7.5, kTwo},
            {60, 8, kTwo},      {65, 8.5, kRead},   {70, 9, kRead},     {75, 9.5, kRead},
            {80, 10, kRead},    {85, 10.5, kRead},  {90, 11, kRead},    {95, 11, kRead},
            {100, 11, kMemory}, {105, 12, kMemory}, {110, 12, kMemory}, {115, 12, kMemory},
            {120, 12, kMemory}, {125, 12, kMemory},
        };
        std::vector<SettingDepth> all;
        for (const Row& r : kRows) {
            all.push_back({Length::feet(r.length_ft), Length::feet(r.depth_ft), r.confidence});
        }
        return all;
    }();
    return kDepths;
}

}  // namespace linewood
