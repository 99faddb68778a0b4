#include "geo/corridor/job_risk.hpp"

#include <gtest/gtest.h>

namespace linewood {
namespace {

TEST(JobRisk, ByHand) {
    const RiskWeights w;
    // Half of the limit of 65 is gone: (0.1 + 0.9 * 0.5) times the urgency.
    EXPECT_DOUBLE_EQ(job_risk(w, Urgency::now, 32.5, 65.0, {}), 3.0 * 0.55);
    EXPECT_DOUBLE_EQ(job_risk(w, Urgency::soon, 32.5, 65.0, {}), 0.55);
    EXPECT_DOUBLE_EQ(job_risk(w, Urgency::soon, 65.0, 65.0, {}), 0.1);
    EXPECT_DOUBLE_EQ(job_risk(w, Urgency::soon, 90.0, 65.0, {}), 0.1);
}

TEST(JobRisk, NoStrengthCountsAsNone) {
    const RiskWeights w;
    EXPECT_EQ(job_risk(w, Urgency::soon, std::nullopt, 65.0, {}),
              job_risk(w, Urgency::soon, 0.0, 65.0, {}));
}

TEST(JobRisk, ConsequenceRaisesAndIsNeverZeroWhereItIsAbsent) {
    RiskWeights w;
    w.per_unit = 0.01;
    w.if_absent = 50.0;
    const double bare = job_risk(w, Urgency::soon, 0.0, 65.0, 0.0);
    EXPECT_DOUBLE_EQ(job_risk(w, Urgency::soon, 0.0, 65.0, 200.0), 3.0 * bare);
    EXPECT_DOUBLE_EQ(job_risk(w, Urgency::soon, 0.0, 65.0, {}), 1.5 * bare);
    EXPECT_EQ(job_risk(w, Urgency::soon, 0.0, 65.0, -7.0), bare);
}

}  // namespace
}  // namespace linewood
