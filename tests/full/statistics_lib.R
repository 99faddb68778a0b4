# What the checks of statistics share: saying how far figures are apart, and the scan by its definition.

failures <- 0L

# Figures of the program against others. `rel` is of the other figure; both must be missing or none.
check <- function(what, got, want, abs = 0, rel = 0) {
    got <- as.numeric(got)
    want <- as.numeric(want)
    same <- length(got) == length(want) && length(got) > 0 && all(is.na(got) == is.na(want))
    apart <- if (same) max(0, (base::abs(got - want) - abs - rel * base::abs(want)), na.rm = TRUE) else Inf
    far <- if (same) max(0, base::abs(got - want), na.rm = TRUE) else Inf
    cat(sprintf("%-4s %-58s %6d figures, at most %.1e apart\n",
                if (apart <= 0) "ok" else "FAIL", what, length(want), far))
    if (apart > 0) failures <<- failures + 1L
}

finish <- function() {
    if (failures > 0) {
        cat(failures, "checks failed\n")
        quit(status = 1)
    }
}

# Kulldorff's Bernoulli statistic for high rates; with no more inside than outside it is 0.
scan_llr <- function(n, c, N, C) {
    xlogy <- function(x, y) ifelse(x == 0, 0, x * log(y))
    llr <- xlogy(c, c / n) + xlogy(n - c, 1 - c / n) +
        xlogy(C - c, (C - c) / (N - n)) + xlogy(N - n - C + c, 1 - (C - c) / (N - n)) -
        xlogy(C, C / N) - xlogy(N - C, 1 - C / N)
    ifelse(n < N & c / n > C / N, llr, 0)
}

# The scan by its definition: every centre, every distance, places at the same distance together; labels
# permuted by R. `far` is a matrix of distances, told apart to a micrometre.
scan_by_definition <- function(far, case, most, radius, replicates, seed, clusters, least = 2) {
    set.seed(seed)
    far <- round(far, 6)
    N <- length(case)
    C <- sum(case)
    labels <- replicate(replicates, sample(case))
    greatest <- matrix(0L, most, replicates)
    found <- list()
    for (i in seq_len(N)) {
        order_i <- order(far[i, ], seq_len(N))
        d <- far[i, order_i]
        ends <- which(c(d[-1] > d[-N], TRUE) & seq_len(N) <= most & d <= radius)
        if (length(ends) == 0) next
        inside <- cumsum(case[order_i])
        found[[i]] <- data.frame(centre = i, poles = ends, decayed = inside[ends])
        sum_r <- integer(replicates)
        for (k in seq_len(max(ends))) {
            sum_r <- sum_r + labels[order_i[k], ]
            if (k %in% ends) greatest[k, ] <- pmax(greatest[k, ], sum_r)
        }
    }
    found <- do.call(rbind, found)
    found$llr <- scan_llr(found$poles, found$decayed, N, C)
    found <- found[found$decayed >= least & found$llr > 0, ]
    llr_r <- vapply(seq_len(replicates), function(r) {
        c_r <- greatest[, r]
        max(0, scan_llr(seq_len(most), c_r, N, C)[c_r >= least])
    }, 0)
    found <- found[order(-round(found$llr, 9), found$poles, found$centre), ]
    taken <- integer(0)
    out <- list()
    for (row in seq_len(nrow(found))) {
        f <- found[row, ]
        members <- order(far[f$centre, ], seq_len(N))[seq_len(f$poles)]
        if (any(members %in% taken)) next
        taken <- c(taken, members)
        out[[length(out) + 1]] <- list(
            members = members, center = f$centre, radius = max(far[f$centre, members]),
            population = f$poles, cases = f$decayed, expected = f$poles * C / N,
            rel_risk = (f$decayed / f$poles) / ((C - f$decayed) / (N - f$poles)),
            llr = f$llr, p_mc = (1 + sum(llr_r >= f$llr - 1e-9)) / (replicates + 1))
        if (length(out) == clusters) break
    }
    list(clusters = out, replicate_llr = llr_r)
}
