# Rscript statistics_program.R FOLDER
# Holds what `linewood clusters` wrote against R packages. FOLDER has what statistics puts there: poles.csv
# and spans.csv of an assessed dataset, in metres, and clusters/, written from it as CSV in the same plane.
suppressPackageStartupMessages({
    library(spdep); library(dbscan); library(epitools); library(igraph, exclude = "degree")
})
folder <- commandArgs(trailingOnly = TRUE)[1]
here <- dirname(sub("^--file=", "", grep("^--file=", commandArgs(), value = TRUE)))
source(file.path(here, "statistics_lib.R"))
table_of <- function(name) read.csv(file.path(folder, name), colClasses = c(pole_id = "character"),
                                    na.strings = "", encoding = "UTF-8")
run <- read.csv(file.path(folder, "clusters/run.csv"), na.strings = "")
setting <- function(item) as.numeric(sub(" .*", "", run$value[run$item == item]))

poles <- table_of("poles.csv")
poles <- poles[!is.na(poles$verdict) & poles$verdict != "unassessed", ]
poles <- poles[order(poles$pole_id, method = "radix"), ]
scores <- table_of("clusters/pole_scores.csv")
stopifnot(identical(scores$pole_id, poles$pole_id))
case <- as.integer(poles$verdict %in% c("stub", "replace"))
N <- length(case)
C <- sum(case)
check("poles, decayed", c(setting("count_inspected"), setting("count_decayed")), c(N, C))
check("who is decayed", scores$decayed == "true", case)

# ---- around each pole: the twelve nearest, itself among them ----
# Of poles equally far the first by id (geo/cluster/neighbour_source.hpp): packages choose otherwise.
nearest <- function(places, k) {
    far <- round(as.matrix(dist(places)), 6)
    diag(far) <- -1
    nb <- lapply(seq_len(nrow(far)), function(i) sort(order(far[i, ])[2:(k + 1)]))
    attr(nb, "region.id") <- as.character(seq_len(nrow(far)))
    structure(nb, class = "nb")
}
places <- cbind(poles$X, poles$Y)
nb <- nearest(places, 11)
n_i <- vapply(nb, length, 0L) + 1L
c_i <- vapply(seq_len(N), function(i) sum(case[c(i, nb[[i]])]), 0L)
check("neighbourhoods", c(scores$neighbourhood, scores$decayed_near), c(n_i, c_i))
p <- phyper(c_i - 1, C, N - C, n_i, lower.tail = FALSE)
check("exact p of decayed poles around", scores$decay_p, p, rel = 1e-10)
check("the same, Benjamini-Hochberg", scores$decay_p_adjusted, p.adjust(p, "BH"), rel = 1e-9)
star <- nb2listw(include.self(nb), style = "B")
check("standard score of decayed poles around (Gi*)", scores$decay_z, localG(case, star), abs = 1e-8)
strong <- !is.na(poles$remaining_pct)
strong_nb <- nearest(places[strong, ], 11)
z <- as.numeric(localG(poles$remaining_pct[strong], nb2listw(include.self(strong_nb), style = "B")))
p <- 2 * pnorm(-abs(z))
check("Gi* of strength", scores$strength_z[strong], z, abs = 1e-8)
check("the same, Benjamini-Hochberg", scores$strength_p_adjusted[strong], p.adjust(p, "BH"), abs = 1e-8)
stopifnot(all(is.na(scores$strength_z[!strong])))

# ---- spans ----
spans <- read.csv(file.path(folder, "spans.csv"), colClasses = c(from_pole = "character", to_pole = "character"),
                  na.strings = "")
spans <- spans[!is.na(spans$from_pole) & !is.na(spans$to_pole) & spans$from_pole != spans$to_pole &
                   (is.na(spans$kind) | spans$kind == "line"), ]
ends <- cbind(match(spans$from_pole, poles$pole_id), match(spans$to_pole, poles$pole_id))
ends <- unique(t(apply(ends[!is.na(rowSums(ends)), ], 1, sort)))
joined <- lapply(seq_len(N), function(i) {
    near <- sort(c(ends[ends[, 1] == i, 2], ends[ends[, 2] == i, 1]))
    if (length(near) == 0) 0L else as.integer(near)
})
class(joined) <- "nb"
attr(joined, "region.id") <- poles$pole_id
joins <- joincount.test(factor(case), nb2listw(joined, style = "B", zero.policy = TRUE), zero.policy = TRUE,
                        adjust.n = FALSE)[[2]]
check("join count", c(setting("join_count"), setting("join_count_expected")), joins$estimate[1:2], rel = 1e-11)
check("join count, standard score", setting("join_count_z"), joins$statistic, abs = 1e-8)

# ---- rates ----
rates <- read.csv(file.path(folder, "clusters/rates.csv"), na.strings = "")
some <- !is.na(rates$rate_pct)
w <- binom.wilson(rates$decayed[some], rates$inspected[some], 0.95)
check("Wilson intervals of rates", c(rates$rate_low_pct[some], rates$rate_high_pct[some]),
      100 * c(w$lower, w$upper), abs = 1e-7)
for (kind in unique(rates$kind)) {
    of <- some & rates$kind == kind
    eb <- EBest(rates$decayed[of], rates$inspected[of], family = "binomial")
    # spdep lets the weight leave 0 to 1; held to it, an estimate lies between the rate and the mean.
    mean_rate <- sum(rates$decayed[of]) / sum(rates$inspected[of])
    held <- pmin(pmax(eb$estmm, pmin(eb$raw, mean_rate)), pmax(eb$raw, mean_rate))
    check(paste("EB rates,", kind), rates$smoothed_pct[of], 100 * held, abs = 1e-7)
}

# ---- groups for drawing: along the spans, as dbscan has them in a graph of ways ----
lines <- graph_from_data_frame(data.frame(from = spans$from_pole, to = spans$to_pole,
                                          weight = spans$span_length_m), directed = FALSE)
lines <- add_vertices(lines, sum(!poles$pole_id %in% V(lines)$name),
                      name = poles$pole_id[!poles$pole_id %in% V(lines)$name])
way <- distances(lines, poles$pole_id, poles$pole_id)
decayed <- which(case == 1)
lengths <- sort(unique(data.frame(a = pmin(spans$from_pole, spans$to_pole), b = pmax(spans$from_pole, spans$to_pole),
                                  m = spans$span_length_m))$m)
eps <- 2 * lengths[floor(length(lengths) / 2) + 1]
check("reach of groups: twice the middle span", setting("group_reach"), eps, abs = 0.05)
ways <- way[decayed, decayed]
ways[is.infinite(ways)] <- 1e9
groups <- dbscan(as.dist(ways), eps = eps + 5e-7, minPts = 4)$cluster
mine <- ifelse(is.na(scores$group[decayed]), 0, scores$group[decayed])
check("groups: poles in none", mine == 0, groups == 0)
check("groups: how many", length(unique(mine[mine > 0])), length(unique(groups[groups > 0])))
core <- rowSums(ways <= eps + 5e-7) >= 4
check("groups: which core poles are together", outer(mine[core], mine[core], "=="),
      outer(groups[core], groups[core], "=="))

# ---- scans, by their definition in R ----
clusters <- read.csv(file.path(folder, "clusters/clusters.csv"), colClasses = c(centre_pole = "character"))
members <- table_of("clusters/cluster_members.csv")
replicates <- 999
for (distance in c("straight", "network")) {
    mine <- clusters[clusters$distance == distance, ]
    far <- if (distance == "straight") as.matrix(dist(places)) else way
    scan <- scan_by_definition(far, case, floor(N / 10), if (distance == "straight") 3000 else 5000, replicates,
                               4711, nrow(mine))
    theirs <- do.call(rbind, lapply(scan$clusters, function(c) data.frame(c[-1])))
    what <- function(of) paste0("scan, ", distance, ": ", of)
    check(what("poles, decayed"), c(mine$inspected, mine$decayed), c(theirs$population, theirs$cases))
    check(what("centres"), match(mine$centre_pole, poles$pole_id), theirs$center)
    check(what("log-likelihood ratio"), mine$llr, theirs$llr, abs = 1e-6)
    check(what("expected, times elsewhere"), c(mine$expected, mine$times_elsewhere),
          c(theirs$expected, theirs$rel_risk), rel = 1e-8)
    check(what("radius"), mine$radius_m, theirs$radius, abs = 1e-5)
    q <- theirs$p_mc
    check(what("p"), mine$p, q, abs = pmax(0.005, 8 * sqrt(q * (1 - q) / replicates)))
    for (k in seq_len(nrow(mine))) {
        ids <- poles$pole_id[scan$clusters[[k]]$members]
        if (!setequal(members$pole_id[members$cluster == mine$cluster[k]], ids)) {
            check(what(paste("members of", mine$cluster[k])), 0, 1)
        }
    }
}
finish()
