#include "assess/condition/bore_survey.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <utility>

#include "assess/condition/condition_findings.hpp"
#include "assess/condition/rounding.hpp"

namespace linewood {
namespace {

/// Recorded thickness to effective: the share that counts; absent where the angle cannot be.
std::optional<double> bore_factor(const Defect& d, const Criteria& criteria) {
    if (!d.bore_angle) {
        return 1.0;
    }
    const double degrees = d.bore_angle->degrees();
    if (degrees < 0.0 || degrees >= 90.0) {
        return std::nullopt;
    }
    return degrees == 45.0 ? criteria.bore_45_factor : std::cos(d.bore_angle->radians());
}

/// Whether a pocket's mouth covers a direction; a pocket of unknown place may.
bool may_cover(const SurveyedPocket& p, Bearing b, Length radius) {
    if (!p.azimuth) {
        return true;
    }
    const double half = std::min(1.0, p.width / (2.0 * radius));
    return angle_between(*p.azimuth, b).radians() <= std::asin(half) + 1e-9;
}

/// The depth of the pocket a bore was made from: of those that may cover it the shallowest, which
/// leaves the thinner shell; without a direction, of all; absent where the section has none.
Maybe<Length> pocket_depth(const SurveyedSection& s, Maybe<Bearing> azimuth) {
    Maybe<Length> covering;
    Maybe<Length> any;
    for (const SurveyedPocket& p : s.pockets) {
        any = std::min(p.depth, any.value_or(p.depth));
        const bool radius_known = s.present && *s.present > Length{};
        if (!azimuth || !radius_known ||
            may_cover(p, *azimuth, *s.present / (2.0 * std::numbers::pi))) {
            covering = std::min(p.depth, covering.value_or(p.depth));
        }
    }
    return covering ? covering : any;
}

class BoreSurvey {
public:
    BoreSurvey(const SurveyInput& in, SurveyedSection& s, Findings* findings)
        : in_{in}, s_{s}, findings_{findings} {}

    void take(std::size_t i) {
        const Defect& d = in_.defects[i];
        SurveyedBore b;
        b.defect = i;
        b.azimuth = d.azimuth;
        b.position = d.position;
        b.sound = d.kind == DefectKind::bore;
        if (!b.sound) {
            b.shell = effective_shell(i, b);
            s_.missing.add_if(!b.shell, Reason::shell_thickness_missing);
            b.local = s_.present && d.extent && *d.extent < *s_.present / std::numbers::pi;
        }
        s_.bores.push_back(b);
    }

private:
    void note(const FindingKind& kind, std::size_t i, std::string_view field, std::string value) {
        if (findings_ != nullptr) {
            findings_->push_back(make_finding(
                kind, InputLayer::defects, in_.defects[i].fid, field, std::move(value)));
        }
    }
    void note(const FindingKind& kind, std::size_t i, std::string_view field, double value) {
        note(kind, i, field, plain_number(value));
    }

    Maybe<Length> effective_shell(std::size_t i, SurveyedBore& b) {
        const Defect& d = in_.defects[i];
        if (!d.shell_thickness) {
            return {};
        }
        const auto factor = bore_factor(d, in_.criteria);
        if (!factor) {
            note(finding::kBoreAngle, i, "bore_angle", d.bore_angle->degrees());
            return {};
        }
        b.factor = *factor;
        Length shell = *d.shell_thickness * *factor;
        if (d.bore_from == BoreFrom::pocket) {
            const Maybe<Length> depth = pocket_depth(s_, d.azimuth);
            if (depth) {
                b.added = depth;
                shell = shell + *depth;
            } else {
                note(finding::kBorePocket, i, "bore_from", std::string{"pocket"});
            }
        }
        if (!s_.present) {
            return shell;
        }
        const Length radius = *s_.present / (2.0 * std::numbers::pi);
        if (is_above(shell, radius)) {
            s_.impossible = true;
            note(finding::kShellThick, i, "shell_thickness", d.shell_thickness->inches());
        }
        return std::min(shell, radius);
    }

    const SurveyInput& in_;
    SurveyedSection& s_;
    Findings* findings_;
};

}  // namespace

void survey_bores(const SurveyInput& in, SurveyedSection& s, Findings* findings) {
    BoreSurvey survey{in, s, findings};
    for (const std::size_t i : s.defects) {
        const DefectKind kind = in.defects[i].kind;
        if (kind == DefectKind::internal_rot || kind == DefectKind::bore) {
            survey.take(i);
        }
    }
    if (findings == nullptr) {
        return;
    }
    const bool some_placed = std::any_of(s.bores.begin(), s.bores.end(), [](const SurveyedBore& b) {
        return b.azimuth.has_value();
    });
    for (const SurveyedBore& b : s.bores) {
        if (b.sound && !b.azimuth && some_placed && s.has_internal_rot()) {
            findings->push_back(make_finding(finding::kBoreUnplaced,
                                             InputLayer::defects,
                                             in.defects[b.defect].fid,
                                             "azimuth",
                                             ""));
        }
    }
}

}  // namespace linewood
