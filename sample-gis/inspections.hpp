#pragma once

#include "sample-gis/decay.hpp"
#include "sample-gis/random.hpp"
#include "sample-gis/records.hpp"

namespace linewood::sample {

/// How true and grid north, and compass north, lie where the sample lies: round figures, only so that
/// the readings written down are of the right kind. Degrees.
struct Norths {
    double convergence = -1.5;  ///< true = grid + this
    double declination = 2.5;   ///< true = compass + this
};

/// Walks the poles of an area in 2025 and 2026 and writes down inspections and defects as crews would:
/// most poles once, the bad ones of the first year often again, some never.
class Crews {
public:
    Crews(Random& random, Norths norths) : random_{random}, norths_{norths} {}

    /// @param early the pole is on the first year's list
    void visit(const Pole& pole, bool early, Area& area);

private:
    struct Visit {
        int day = 0;
        bool last = true;
        bool again = false;   ///< the second visit: nobody comes back only to look
        double growth = 1.0;  ///< of what had decayed by the first visit
    };
    void write_down(const Pole& pole, const Condition& c, const Visit& visit, Area& area);
    Inspection inspect(const Pole& pole, const Condition& c, const Visit& visit);
    void girths(const Pole& pole, const Condition& c, const Visit& visit, Inspection& out);
    void find_defects(const Pole& pole,
                      const Condition& c,
                      const Visit& visit,
                      const Inspection& inspection,
                      Area& area);
    void outside(const Pole& pole, const Condition& c, const Visit& visit, Area& area);
    void pockets(const Pole& pole, const Condition& c, const Visit& visit, bool dug, Area& area);
    void bores(const Pole& pole, const Condition& c, const Visit& visit, bool dug, Area& area);
    void sound_bores(const Pole& pole, const Visit& visit, Area& area);
    Defect blank(const Pole& pole, const char* kind, const Visit& visit);
    void height(Defect& defect, double feet);
    void direction(const Pole& pole, Defect& defect, double true_azimuth);
    int next_day(int year);

    Random& random_;
    Norths norths_;
    int seen_first_ = 0;  ///< poles seen so far in the first year, for the calendar
    int seen_second_ = 0;
};

}  // namespace linewood::sample
