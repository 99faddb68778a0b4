#pragma once

#include <optional>

#include "assess/section/mechanics.hpp"
#include "assess/section/shape.hpp"

namespace linewood {

/// Strength of one cross-section as it is now: the disc of the present girth, less its pockets, less
/// the void (SectionShape says what each takes away).
///
/// A load from bearing a, unit vector e, bends the pole about the centroid of what is left. With J
/// the second-moment matrix about that centroid and k = J^-1 e the stress at p is proportional to
/// k.p, so the section modulus is S(a) = 1 / max |k.p| (unsymmetric bending; for a symmetric section
/// and a load along its symmetry axis this is the familiar I / c). S(a) = S(a + 180 degrees).
///
/// **Pieces.** Where cavities cut the section apart the largest piece carries alone. Pieces whose
/// areas agree to 1e-9 count as equally large: of these the one of least weakest modulus carries,
/// and if those agree too, the first clockwise from north. A cavity parts the section where its
/// boundary touches two or more pieces. Where every cavity that does so is local (Pocket::local,
/// SectionShape::void_local) all pieces act together: one net section about their common centroid.
/// If no single cavity touches two pieces, all cavities that touch any piece must be local for that.
/// A scrap under 1e-9 R^2 is no piece. Pieces that touch in a point or a line only are separate.
///
/// **Accuracy.** No polygon and no scan: arcs and straight edges in closed form, the linear shell by
/// quadrature at rounding level. Area within 1e-12 of the disc's, moduli within 1e-10 of the solid
/// section's. Features under 1e-12 R are not seen.
///
/// **Odd cases.** Radius 0 or nothing left: area, pieces and moduli 0, no axis. A modulus may exceed
/// the solid section's by a little: shallow cuts at the extreme fibre take less strength than fibre
/// distance; callers cap what they report. A shell reading over the radius counts as the radius.
///
/// Cost: no pocket, or one pocket shallower than the radius, with no void or one of even shell that
/// stays clear of the pocket: closed form, no allocation, about 0.1 us. Anything else: a few us.
class RemainingSection {
public:
    /// @pre see SectionShape
    explicit RemainingSection(const SectionShape& shape);

    /// Of all pieces together, m^2.
    double area() const { return mechanics_.area; }
    /// Separate pieces; 1 for a section in one, 0 where nothing is left.
    int pieces() const { return mechanics_.pieces; }
    /// Area of the pieces that do not carry, as a share of area(); 0 where they act together.
    double lost_share() const { return mechanics_.lost_share; }
    /// Several pieces, taken as one net section because all that parts them is local.
    bool acts_together() const { return mechanics_.acts_together; }
    /// The piece that carries alone, as the bands of the shape make pieces (polar::Pieces); -1 where
    /// everything there is carries.
    int carrying_piece() const { return mechanics_.carrying; }
    /// Area, centroid and second moments of what carries.
    BendingFigures figures() const { return mechanics_.outline.figures(); }
    /// The fibre that gives modulus(load).
    ExtremeFibre extreme_fibre(Bearing load) const {
        return mechanics_.outline.extreme_fibre(load);
    }
    /// S(load), m^3.
    double modulus(Bearing load) const { return mechanics_.outline.modulus(load); }
    /// The exact minimum of S over all directions.
    WeakestDirection weakest() const { return mechanics_.outline.weakest(); }

private:
    Mechanics mechanics_;
};

/// Section modulus of a sound round pole of this girth, pi D^3 / 32, m^3.
/// @pre circumference >= 0
double solid_modulus(Length circumference);

/// Sound wood between the present surface and the void at one azimuth: linear in angle between the
/// readings either side, as RemainingSection takes it. Nothing where the shape has no readings.
/// A reading over the radius counts as the radius.
std::optional<Length> shell_at(const SectionShape& shape, Bearing azimuth);

}  // namespace linewood
