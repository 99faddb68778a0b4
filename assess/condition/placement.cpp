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

/// Shell readings of a section, merged; with the void's own extent.
void take_shell(const SurveyedSection& s, const Criteria& criteria, SectionShape& shape) {
    std::vector<ShellReading> readings;
    Maybe<Length> least;
    bool all_placed = true;
    bool rot_local = true;
    for (const SurveyedBore& b : s.bores) {
        if (b.sound) {
            if (b.azimuth) {
                readings.push_back({*b.azimuth, shape.radius});
            }
            continue;
        }
        rot_local = rot_local && b.local;
        all_placed = all_placed && b.azimuth.has_value();
        if (!b.shell) {
            continue;
        }
        const Length shell = std::clamp(*b.shell, Length{}, shape.radius);
        least = std::min(shell, least.value_or(shell));
        if (b.azimuth) {
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

class Placement {
public:
    Placement(const SurveyedSection& s,
              std::span<const Defect> defects,
              const LineDirection& line,
              const Criteria& criteria,
              Findings* findings)
        : s_{s}, defects_{defects}, line_{line}, criteria_{criteria}, findings_{findings} {}

    SectionShape run();

private:
    bool conflicts(const SurveyedPocket& p) const;
    std::vector<Bearing> candidates(const SurveyedPocket& p) const;
    double reference_direction() const;
    Bearing worst_of(const std::vector<Bearing>& directions, Pocket pocket);
    void note_conflict(const SurveyedPocket& p);

    const SurveyedSection& s_;
    std::span<const Defect> defects_;
    const LineDirection& line_;
    const Criteria& criteria_;
    Findings* findings_;
    SectionShape trial_;  ///< what is placed so far
};

/// A recorded position that the azimuth contradicts.
bool Placement::conflicts(const SurveyedPocket& p) const {
    return p.azimuth && p.position != FacePosition::not_recorded && line_.axis &&
           sector_of(*p.azimuth, *line_.axis, criteria_) != p.position;
}

/// Where the 1-degree steps start: at the axis, else at the first thing that has a direction, so
/// that turning the world turns the answer.
double Placement::reference_direction() const {
    if (line_.axis) {
        return line_.axis->degrees();
    }
    for (const SurveyedPocket& p : s_.pockets) {
        if (p.azimuth) {
            return p.azimuth->degrees();
        }
    }
    return trial_.shell.empty() ? 0.0 : trial_.shell.front().azimuth.degrees();
}

std::vector<Bearing> Placement::candidates(const SurveyedPocket& p) const {
    std::vector<Bearing> directions;
    if (p.position != FacePosition::not_recorded && line_.axis) {
        directions = directions_of(p.position, *line_.axis, criteria_);
        if (p.azimuth) {
            directions.insert(directions.begin(), *p.azimuth);
        }
        return directions;
    }
    return all_directions(reference_direction());
}

Bearing Placement::worst_of(const std::vector<Bearing>& directions, Pocket pocket) {
    Bearing worst = directions.front();
    double least = std::numeric_limits<double>::infinity();
    trial_.pockets.push_back(pocket);
    for (const Bearing b : directions) {
        trial_.pockets.back().azimuth = b;
        const double modulus = governing_modulus(RemainingSection{trial_}, line_, criteria_);
        if (modulus < least * (1.0 - kSame)) {
            least = modulus;
            worst = b;
        }
    }
    trial_.pockets.pop_back();
    return worst;
}

void Placement::note_conflict(const SurveyedPocket& p) {
    if (findings_ == nullptr) {
        return;
    }
    Finding f = make_finding(finding::kPositionConflict,
                             InputLayer::defects,
                             defects_[p.defect].fid,
                             "position",
                             std::string{name_of(p.position)});
    f.message += "; recorded ";
    f.message += name_of(p.position);
    f.message += ", but azimuth " + plain_number(p.azimuth->degrees()) + " is ";
    f.message += name_of(sector_of(*p.azimuth, *line_.axis, criteria_));
    findings_->push_back(std::move(f));
}

SectionShape Placement::run() {
    trial_.radius = *s_.present / (2.0 * std::numbers::pi);
    take_shell(s_, criteria_, trial_);
    std::vector<std::size_t> open;
    std::vector<Pocket> placed;
    for (std::size_t i = 0; i < s_.pockets.size(); ++i) {
        const SurveyedPocket& p = s_.pockets[i];
        placed.push_back({p.azimuth.value_or(Bearing{}), p.width, p.depth, p.local});
        if (p.azimuth && !conflicts(p)) {
            trial_.pockets.push_back(placed.back());
        } else {
            open.push_back(i);
        }
    }
    std::stable_sort(open.begin(), open.end(), [&](std::size_t a, std::size_t b) {
        const SurveyedPocket& p = s_.pockets[a];
        const SurveyedPocket& q = s_.pockets[b];
        const double size_p = p.width.metres() * p.depth.metres();
        const double size_q = q.width.metres() * q.depth.metres();
        if (size_p != size_q) {
            return size_p > size_q;
        }
        return p.width != q.width ? p.width > q.width : p.position < q.position;
    });
    for (const std::size_t i : open) {
        const SurveyedPocket& p = s_.pockets[i];
        placed[i].azimuth = worst_of(candidates(p), placed[i]);
        trial_.pockets.push_back(placed[i]);
        if (p.azimuth) {
            note_conflict(p);
        }
    }
    trial_.pockets = std::move(placed);
    return std::move(trial_);
}

}  // namespace

double governing_modulus(const RemainingSection& section,
                         const LineDirection& line,
                         const Criteria& criteria) {
    if (transverse_governs(line, criteria)) {
        return section.modulus(Bearing::degrees(line.axis->degrees() + 90.0));
    }
    return section.weakest().modulus;
}

SectionShape place_defects(const SurveyedSection& s,
                           std::span<const Defect> defects,
                           const LineDirection& line,
                           const Criteria& criteria,
                           Findings* findings) {
    return Placement{s, defects, line, criteria, findings}.run();
}

}  // namespace linewood
