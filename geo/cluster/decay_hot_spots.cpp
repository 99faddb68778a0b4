#include "geo/cluster/decay_hot_spots.hpp"

#include <cassert>

#include "geo/cluster/hypergeometric.hpp"
#include "geo/cluster/replicate_random.hpp"

namespace linewood {

std::vector<HotSpotScore> decay_hot_spots(std::span<const std::uint8_t> decayed,
                                          std::span<const std::uint32_t> stratum,
                                          const NeighbourRows& rows,
                                          const HotSpotSettings& settings) {
    assert(decayed.size() == rows.size());
    const DecayLabels labels{decayed, stratum};
    std::vector<Sample> samples;
    for (const StratumTotal& total : labels.strata()) {
        samples.push_back({total.poles, total.decayed, 0});
    }
    std::vector<HotSpotScore> scores(decayed.size());
    std::vector<Sample> drawn;  // of the strata met only: there may be many, and rows are short
    for (std::uint32_t pole = 0; pole < scores.size(); ++pole) {
        HotSpotScore& score = scores[pole];
        const auto count = [&](std::uint32_t near) {
            ++score.poles;
            score.decayed += decayed[near] != 0 ? 1U : 0U;
            ++samples[stratum.empty() ? 0 : stratum[near]].drawn;
        };
        const auto gather = [&](std::uint32_t near) {
            Sample& sample = samples[stratum.empty() ? 0 : stratum[near]];
            if (sample.drawn > 0) {
                drawn.push_back(sample);
                sample.drawn = 0;
            }
        };
        drawn.clear();
        count(pole);
        for (const Near& near : rows.row(pole)) {
            count(near.pole);
        }
        gather(pole);
        for (const Near& near : rows.row(pole)) {
            gather(near.pole);
        }
        const StratifiedTail tail = stratified_tail(drawn, score.decayed);
        score.expected = tail.expected;
        if (score.poles >= settings.min_poles_z) {
            score.z = tail.z;
        }
        if (score.poles >= settings.min_poles_p) {
            score.p = tail.p;
        }
    }
    return scores;
}

}  // namespace linewood
