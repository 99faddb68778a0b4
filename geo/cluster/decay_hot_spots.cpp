#include "geo/cluster/decay_hot_spots.hpp"

#include <cassert>

#include "geo/cluster/decay_labels.hpp"
#include "geo/cluster/hypergeometric.hpp"

namespace linewood {
namespace {

/// Counts neighbourhoods stratum by stratum.
class Neighbourhoods {
public:
    Neighbourhoods(std::span<const std::uint8_t> decayed, std::span<const std::uint32_t> stratum)
        : decayed_{decayed}, stratum_{stratum} {
        const DecayLabels labels{decayed, stratum};
        for (const StratumTotal& total : labels.strata()) {
            samples_.push_back({total.poles, total.decayed, 0});
        }
    }

    HotSpotScore count(std::uint32_t pole, std::span<const Near> row) {
        HotSpotScore score;
        draw(pole, score);
        for (const Near& near : row) {
            draw(near.pole, score);
        }
        drawn_.clear();
        gather(pole);
        for (const Near& near : row) {
            gather(near.pole);
        }
        const StratifiedTail tail = stratified_tail(drawn_, score.decayed);
        score.expected = tail.expected;
        score.z = tail.z;
        score.p = tail.p;
        return score;
    }

private:
    Sample& sample_of(std::uint32_t pole) {
        return samples_[stratum_.empty() ? 0 : stratum_[pole]];
    }

    void draw(std::uint32_t pole, HotSpotScore& score) {
        ++score.poles;
        score.decayed += decayed_[pole] != 0 ? 1U : 0U;
        ++sample_of(pole).drawn;
    }
    void gather(std::uint32_t pole) {
        Sample& sample = sample_of(pole);
        if (sample.drawn > 0) {
            drawn_.push_back(sample);
            sample.drawn = 0;
        }
    }

    std::span<const std::uint8_t> decayed_;
    std::span<const std::uint32_t> stratum_;
    std::vector<Sample> samples_;  ///< one a stratum, nothing drawn
    std::vector<Sample> drawn_;  ///< of the strata met only: there may be many, and rows are short
};

}  // namespace

std::vector<HotSpotScore> decay_hot_spots(std::span<const std::uint8_t> decayed,
                                          std::span<const std::uint32_t> stratum,
                                          const NeighbourRows& rows,
                                          const HotSpotSettings& settings) {
    assert(decayed.size() == rows.size());
    Neighbourhoods neighbourhoods{decayed, stratum};
    std::vector<HotSpotScore> scores(decayed.size());
    for (std::uint32_t pole = 0; pole < scores.size(); ++pole) {
        HotSpotScore& score = scores[pole];
        score = neighbourhoods.count(pole, rows.row(pole));
        if (score.poles < settings.min_poles_z) {
            score.z.reset();
        }
        if (score.poles < settings.min_poles_p) {
            score.p.reset();
        }
    }
    return scores;
}

}  // namespace linewood
