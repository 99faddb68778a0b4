#include "assess/condition/placement.hpp"

#include <algorithm>
#include <limits>
#include <numbers>
#include <numeric>

#include "assess/condition/condition_findings.hpp"
#include "assess/condition/sectors.hpp"

namespace linewood {
namespace {

/// Strengths nearer than this, relative, are one strength: the first direction found stands.
constexpr double kSame = 1e-12;

/// Whether the position recorded has a sector here.
bool has_sector(FacePosition position, const LineDirection& line) {
    return position != FacePosition::not_recorded && line.axis;
}

/// A recorded position that the azimuth contradicts.
bool conflicts(Maybe<Bearing> azimuth,
               FacePosition position,
               const LineDirection& line,
               const Criteria& criteria) {
    return azimuth && has_sector(position, line) &&
           !is_in_sector(*azimuth, *line.axis, position, criteria);
}

/// Shell readings of a section, merged; with the void's own extent. A bore whose position and azimuth
/// disagree could be on either side: it has no azimuth to count on.
void take_shell(const SurveyedSection& s,
                const LineDirection& line,
                const Criteria& criteria,
                SectionShape& shape) {
    std::vector<ShellReading> readings;
    Maybe<Length> least;
    bool all_placed = true;
    bool rot_local = true;
    for (const SurveyedBore& b : s.bores) {
        const bool placed = b.azimuth && !conflicts(b.azimuth, b.position, line, criteria);
        if (b.sound) {
            if (placed) {
                readings.push_back({*b.azimuth, shape.radius});
            }
            continue;
        }
        rot_local = rot_local && b.local;
        all_placed = all_placed && placed;
        if (!b.shell) {
            continue;
        }
        const Length shell = std::clamp(*b.shell, Length{}, shape.radius);
        least = std::min(shell, least.value_or(shell));
        if (placed) {
            readings.push_back({*b.azimuth, shell});
        }
    }
    if (!least) {
        return;  // no rot was measured: no void to draw
    }
    shape.void_local = rot_local;
    if (!all_placed) {
        shape.shell.push_back({Bearing{}, *least});
        return;
    }
    std::stable_sort(readings.begin(), readings.end(), [](const auto& a, const auto& b) {
        return a.thickness < b.thickness || (a.thickness == b.thickness && a.azimuth < b.azimuth);
    });
    for (const ShellReading& r : readings) {
        const bool near_thinner =
            std::any_of(shape.shell.begin(), shape.shell.end(), [&](const ShellReading& kept) {
                return angle_between(kept.azimuth, r.azimuth).degrees() <=
                       criteria.bore_merge.degrees() + 1e-9;
            });
        if (!near_thinner) {
            shape.shell.push_back(r);
        }
    }
}

/// The largest width x depth first. What follows settles ties by the pockets themselves, so that
/// their order in the layer does not matter.
bool goes_before(const SurveyedPocket& p, const SurveyedPocket& q) {
    const double size_p = p.width.metres() * p.depth.metres();
    const double size_q = q.width.metres() * q.depth.metres();
    if (size_p != size_q) {
        return size_p > size_q;
    }
    if (p.width != q.width) {
        return p.width > q.width;
    }
    if (p.position != q.position) {
        return p.position < q.position;
    }
    if (p.local != q.local) {
        return q.local;
    }
    return p.azimuth.value_or(Bearing{}) < q.azimuth.value_or(Bearing{});
}

class Placement {
public:
    Placement(const SurveyedSection& s,
              const LineDirection& line,
              const Criteria& criteria,
              Sought sought)
        : s_{s}, line_{line}, criteria_{criteria}, sought_{sought} {}

    SectionShape run();

private:
    std::vector<Bearing> candidates(const SurveyedPocket& p) const;
    double reference_direction() const;
    double strength() const;
    Bearing worst_of(const std::vector<Bearing>& directions, const Pocket& pocket);

    const SurveyedSection& s_;
    const LineDirection& line_;
    const Criteria& criteria_;
    Sought sought_;
    SectionShape trial_;  ///< what is placed so far
};

/// Where the 1-degree steps start: at the axis, else at the largest pocket that has a direction,
/// else at a bore, so that turning the world turns the answer.
double Placement::reference_direction() const {
    if (line_.axis) {
        return line_.axis->degrees();
    }
    const SurveyedPocket* largest = nullptr;
    for (const SurveyedPocket& p : s_.pockets) {
        if (p.azimuth && (largest == nullptr || goes_before(p, *largest))) {
            largest = &p;
        }
    }
    if (largest != nullptr) {
        return largest->azimuth->degrees();
    }
    return trial_.shell.empty() ? 0.0 : trial_.shell.front().azimuth.degrees();
}

std::vector<Bearing> Placement::candidates(const SurveyedPocket& p) const {
    if (!has_sector(p.position, line_)) {
        return all_directions(reference_direction());
    }
    std::vector<Bearing> directions = directions_of(p.position, *line_.axis, criteria_);
    if (p.azimuth) {
        directions.insert(directions.begin(), *p.azimuth);
    }
    return directions;
}

double Placement::strength() const {
    const RemainingSection section{trial_};
    return sought_ == Sought::governing ? governing_modulus(section, line_, criteria_)
                                        : section.weakest().modulus;
}

Bearing Placement::worst_of(const std::vector<Bearing>& directions, const Pocket& pocket) {
    Bearing worst = directions.front();
    double least = std::numeric_limits<double>::infinity();
    trial_.pockets.push_back(pocket);
    for (const Bearing b : directions) {
        trial_.pockets.back().azimuth = b;
        const double now = strength();
        if (now < least * (1.0 - kSame)) {
            least = now;
            worst = b;
        }
    }
    trial_.pockets.pop_back();
    return worst;
}

SectionShape Placement::run() {
    trial_.radius = *s_.present / (2.0 * std::numbers::pi);
    take_shell(s_, line_, criteria_, trial_);
    std::vector<std::size_t> open;
    std::vector<Pocket> placed;
    for (std::size_t i = 0; i < s_.pockets.size(); ++i) {
        const SurveyedPocket& p = s_.pockets[i];
        placed.push_back({p.azimuth.value_or(Bearing{}), p.width, p.depth, p.local});
        if (is_open(p, line_, criteria_)) {
            open.push_back(i);
        } else {
            trial_.pockets.push_back(placed.back());
        }
    }
    std::stable_sort(open.begin(), open.end(), [&](std::size_t a, std::size_t b) {
        return goes_before(s_.pockets[a], s_.pockets[b]);
    });
    for (const std::size_t i : open) {
        placed[i].azimuth = worst_of(candidates(s_.pockets[i]), placed[i]);
        trial_.pockets.push_back(placed[i]);
    }
    trial_.pockets = std::move(placed);
    return std::move(trial_);
}

}  // namespace

bool is_open(const SurveyedPocket& p, const LineDirection& line, const Criteria& criteria) {
    return !p.azimuth || conflicts(p.azimuth, p.position, line, criteria);
}

void note_position_conflicts(const SurveyedSection& s,
                             std::span<const Defect> defects,
                             const LineDirection& line,
                             const Criteria& criteria,
                             Findings& findings) {
    // Pockets and bores; shell rot that goes all round has no side.
    const auto look_at = [&](std::size_t defect, Maybe<Bearing> azimuth, FacePosition position) {
        if (!conflicts(azimuth, position, line, criteria)) {
            return;
        }
        Finding f = make_finding(finding::kPositionConflict,
                                 InputLayer::defects,
                                 defects[defect].fid,
                                 "position",
                                 std::string{name_of(position)});
        f.message += "; recorded ";
        f.message += name_of(position);
        f.message += ", but azimuth " + plain_number(azimuth->degrees()) + " is ";
        f.message += name_of(sector_of(*azimuth, *line.axis, criteria));
        findings.push_back(std::move(f));
    };
    for (const SurveyedPocket& p : s.pockets) {
        look_at(p.defect, p.azimuth, p.position);
    }
    for (const SurveyedBore& b : s.bores) {
        look_at(b.defect, b.azimuth, b.position);
    }
}

double governing_modulus(const RemainingSection& section,
                         const LineDirection& line,
                         const Criteria& criteria) {
    if (transverse_governs(line, criteria)) {
        return section.modulus(Bearing::degrees(line.axis->degrees() + 90.0));
    }
    return section.weakest().modulus;
}

SectionShape place_defects(const SurveyedSection& s,
                           const LineDirection& line,
                           const Criteria& criteria,
                           Sought sought) {
    return Placement{s, line, criteria, sought}.run();
}

}  // namespace linewood
