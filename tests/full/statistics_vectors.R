# Rscript statistics_vectors.R PUBLISHED FOLDER
# Works out anew, with R packages, the figures that tests/published/stats holds (PUBLISHED is that folder),
# and writes vectors on data that come with packages and are not committed here into FOLDER, for the tests
# whose names begin with reference_.
suppressPackageStartupMessages({
    library(jsonlite); library(spdep); library(dbscan); library(epitools)
    library(spatstat.data); library(spatstat.geom); library(spatstat.linnet); library(igraph, exclude = "degree")
})
arguments <- commandArgs(trailingOnly = TRUE)
here <- dirname(sub("^--file=", "", grep("^--file=", commandArgs(), value = TRUE)))
source(file.path(here, "statistics_lib.R"))
published <- function(file) fromJSON(file.path(arguments[1], file), simplifyVector = TRUE)
save_vector <- function(file, value) {
    write_json(value, file.path(arguments[2], file), digits = NA, auto_unbox = TRUE, null = "null",
               matrix = "rowmajor")
}
neighbours_of <- function(lists) {
    if (is.matrix(lists)) lists <- split(lists, row(lists))
    nb <- lapply(lists, function(l) if (length(l) == 0) 0L else as.integer(l) + 1L)
    structure(nb, class = "nb", region.id = as.character(seq_along(nb)))
}
with_self <- function(nb) nb2listw(include.self(nb), style = "B", zero.policy = TRUE)

# ---- committed vectors ----
data(nc.sids, package = "spData")
for (file in c("nc_sids74_band33.json", "nc_sids74_knn8.json")) {
    v <- published(file)
    nb <- neighbours_of(v$neighbours)
    if (file == "nc_sids74_band33.json") {
        seats <- cbind(nc.sids$east, nc.sids$north)
        check(paste(file, "places are those of spData"), v$xy, seats)
        check(paste(file, "values"), v$x, 1000 * nc.sids$SID74 / nc.sids$BIR74, rel = 1e-12)
        nb <- dnearneigh(seats, 0, 33)
    }
    star <- as.numeric(localG(v$x, with_self(nb)))
    check(paste(file, "Gi*"), v$gistar_z, star, abs = 1e-8)
    check(paste(file, "Gi"), v$gi_z, localG(v$x, nb2listw(nb, style = "B")), abs = 1e-8)
    p <- 2 * pnorm(-abs(star))
    check(paste(file, "p"), v$gistar_p_two_sided, p, abs = 1e-8)
    check(paste(file, "Benjamini-Hochberg"), v$gistar_p_bh, p.adjust(p, "BH"), abs = 1e-8)
    check(paste(file, "Benjamini-Yekutieli"), v$gistar_p_by, p.adjust(p, "BY"), abs = 1e-8)
    b <- v$binary_case
    n_i <- vapply(nb, length, 0L) + 1L
    c_i <- vapply(seq_along(nb), function(i) sum(v$binary[c(i, nb[[i]])]), 0L)
    check(paste(file, "counts"), c(b$n_i, b$c_i), c(n_i, c_i))
    check(paste(file, "exact p"), b$p_hyper_ge, phyper(c_i - 1, b$C, b$N - b$C, n_i, lower.tail = FALSE),
          rel = 1e-10)
    check(paste(file, "exact p, own label fixed"), b$p_hyper_cond_ge,
          phyper(c_i - v$binary - 1, b$C - v$binary, b$N - 1 - b$C + v$binary, n_i - 1, lower.tail = FALSE),
          rel = 1e-10)
    joins <- joincount.test(factor(v$binary), nb2listw(nb, style = "B"))[[2]]
    check(paste(file, "join count"), unlist(v$join_count[c("stat", "expectation", "variance", "z", "p_greater")]),
          c(joins$estimate, joins$statistic, joins$p.value), abs = 1e-8)
}

v <- published("eb_nc_sids74.json")
for (family in c("poisson", "binomial")) {
    check(paste("EB rates,", family), v[[family]]$eb, EBest(v$count, v$population, family = family)$estmm,
          rel = 1e-9)
}
local <- EBlocal(v$count, v$population, neighbours_of(v$neighbours), geoda = TRUE)$est
local[!is.finite(local)] <- NA
check("EB rates, local", v$local_eb, local, rel = 1e-9)
wilson <- binom.wilson(v$count, v$population, 0.95)
check("Wilson intervals of the counties", c(v$wilson95$lower, v$wilson95$upper), c(wilson$lower, wilson$upper),
      abs = 1e-9)
v <- published("wilson.json")
for (level in c("0.8", "0.95", "0.99")) {
    w <- binom.wilson(v$grid$x, v$grid$n, as.numeric(level))
    check(paste("Wilson intervals,", level), c(v$grid[[paste0("lo", level)]], v$grid[[paste0("hi", level)]]),
          c(w$lower, w$upper), abs = 1e-9)
}
v <- published("false_discovery.json")
for (set in c("bh1995", "ties")) {
    check(paste("false discoveries,", set), c(v[[set]]$bh, v[[set]]$by),
          c(p.adjust(v[[set]]$p, "BH"), p.adjust(v[[set]]$p, "BY")), abs = 1e-12)
}
v <- published("garwood.json")$rows
check("exact Poisson limits", c(v$lower, v$upper),
      c(qgamma(0.025, v$count), qgamma(0.975, v$count + 1)), rel = 1e-9)

# ---- hexagons and strata on the pines of longleaf ----
pines <- cbind(longleaf$x, longleaf$y)
save_vector("longleaf_xy.json", list(inputs = list(xy = pines)))
lattice <- expand.grid(row = -1:13, col = -2:12)
lattice$x <- (lattice$col + (lattice$row %% 2) / 2) * 12 * sqrt(3)
lattice$y <- lattice$row * 18
nearest <- apply(pines, 1, function(p) {
    d <- (lattice$x - p[1])^2 + (lattice$y - p[2])^2
    at <- which(d <= min(d) + 1e-9)
    at[order(lattice$row[at], lattice$col[at])][1]
})
cells <- lattice[sort(unique(nearest)), ]
cells$n <- as.integer(table(nearest))
save_vector("hexgrid_longleaf_r12.json", list(expected = list(cells = cells)))

stratum <- as.integer(cut(marks(longleaf), c(0, 10, 30, 60, Inf), right = FALSE))
set.seed(5)
case <- rbinom(nrow(pines), 1, c(0.05, 0.15, 0.3, 0.5)[stratum])
far <- as.matrix(dist(pines))
distribution <- function(i) {
    around <- which(far[i, ] <= 20)
    p <- 1
    e <- 0
    variance <- 0
    for (s in unique(stratum[around])) {
        k <- sum(stratum[around] == s)
        N <- sum(stratum == s)
        C <- sum(case[stratum == s])
        p <- convolve(p, rev(dhyper(0:k, C, N - C, k)), type = "open")
        e <- e + k * C / N
        if (N > 1) variance <- variance + k * C / N * (1 - C / N) * (N - k) / (N - 1)
    }
    c_i <- sum(case[around])
    c(length(around), c_i, e, variance, if (variance > 0) (c_i - e) / sqrt(variance) else 0,
      if (c_i == 0) 1 else max(0, sum(p[-seq_len(c_i)])))
}
all <- vapply(seq_len(nrow(pines)), distribution, numeric(6))
save_vector("gistar_stratified_longleaf.json", list(
    inputs = list(xy = pines, stratum = stratum, case = case, band = 20),
    expected = list(n_i = all[1, ], c_i = all[2, ], E = all[3, ], Var = all[4, ], z = all[5, ], p_exact_ge = all[6, ])))

# ---- density groups ----
save_groups <- function(file, xy, eps, least) {
    found <- dbscan(xy, eps = eps, minPts = least)
    counts <- rowSums(as.matrix(dist(xy)) <= eps)
    save_vector(file, list(inputs = list(xy = unname(xy), eps = eps, min_pts = least), expected = list(
        n_clusters = max(found$cluster), core = as.integer(is.corepoint(xy, eps, least)),
        cluster = found$cluster, noise = as.integer(found$cluster == 0), neighbour_count_incl_self = counts)))
}
data(moons, package = "dbscan")
save_groups("dbscan_moons.json", as.matrix(moons), 0.35, 5)
children <- cbind(humberside$x, humberside$y)
is_case <- as.integer(marks(humberside) == "case")
save_groups("dbscan_humberside_cases.json", children[is_case == 1, ], 20, 4)

# ---- scans ----
replicates <- 999
scan <- scan_by_definition(as.matrix(dist(children)), is_case, floor(length(is_case) / 2), Inf, replicates, 4711, 5)
save_vector("scan_humberside_bernoulli.json", list(
    window_rule = list(max_population_fraction = 0.5, max_areas = NULL),
    inputs = list(xy = children, cases = is_case, population = rep(1, length(is_case))),
    expected = list(brute_force_clusters = scan$clusters, mc = list(R = replicates, max_llr_quantiles = list(
        q50 = sort(scan$replicate_llr)[500], q95 = sort(scan$replicate_llr)[950])), external = NULL)))

# ---- along networks ----
save_network <- function(file, points, case = NULL) {
    line <- domain(points)
    at <- coords(points)
    far <- pairdist(points)
    # Once more by another package: points cut their edges, and ways are those of a graph.
    edges <- NULL
    for (e in seq_along(line$from)) {
        on <- which(at$seg == e)
        on <- on[order(at$tp[on])]
        name <- c(paste0("v", line$from[e]), paste0("p", on)[seq_along(on)], paste0("v", line$to[e]))
        share <- diff(c(0, at$tp[on], 1))
        edges <- rbind(edges, data.frame(from = name[-length(name)], to = name[-1],
                                         weight = share * lengths_psp(as.psp(line))[e]))
    }
    graph <- graph_from_data_frame(edges, directed = FALSE)
    names <- paste0("p", seq_len(npoints(points)))
    check(paste(file, "ways of spatstat and igraph"), distances(graph, names, names), far,
          abs = 1e-6 * sum(edges$weight))
    first <- seq_len(min(30, npoints(points)))
    pairs <- expand.grid(to = first, from = first)
    expected <- list(total_length = volume(line), nn_dist = nndist(points),
                     network_distance_first30 = unname(as.matrix(data.frame(
                         pairs$from - 1, pairs$to - 1, far[cbind(pairs$from, pairs$to)]))))
    if (!is.null(case)) {
        N <- length(case)
        scan <- scan_by_definition(far, case, floor(N / 2), Inf, replicates, 4711, 5)
        band <- unname(quantile(far, 0.07)) + 1e-3
        nb <- lapply(seq_len(N), function(i) {
            near <- setdiff(which(far[i, ] <= band), i)
            if (length(near) == 0) 0L else near
        })
        class(nb) <- "nb"
        n_i <- rowSums(far <= band)
        c_i <- as.numeric((far <= band) %*% case)
        expected <- c(expected, list(case_marks = case, scan = list(clusters_1based = scan$clusters), gistar_band = list(
            band = band, n_i = n_i, c_i = c_i, z = as.numeric(localG(case, with_self(nb))),
            p_hyper_ge = phyper(c_i - 1, sum(case), N - sum(case), n_i, lower.tail = FALSE))))
    }
    corners <- spatstat.geom::vertices(line)
    save_vector(file, list(
        inputs = list(network = list(vertices = cbind(corners$x, corners$y), edges = cbind(line$from, line$to) - 1),
                      points = list(seg = at$seg - 1, tp = at$tp)),
        expected = expected))
}
set.seed(99)
save_network("net_simplenet25.json", runiflpp(25, simplenet))
save_network("net_chicago.json", unmark(chicago), as.integer(marks(chicago) == "assault"))
finish()
