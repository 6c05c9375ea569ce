package org.bankfire.daemon.bench;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;

/** Sums up many burns as tables in Markdown. */
final class BenchTable {
    /** Probe lags apart, and the longest delays, s, that are wanted at work, at idle and just lit. */
    enum LagClass {
        FAST("≤ 3 s", 3, 4, 6, 10),
        MIDDLE("8–15 s", 15, 7, 10, 20),
        SLOW("20–30 s", 30, 12, 18, 30);

        final String title;
        private final double mostS;
        private final double atWorkS;
        private final double atIdleS;
        private final double justLitS;

        LagClass(String title, double mostS, double atWorkS, double atIdleS, double justLitS) {
            this.title = title;
            this.mostS = mostS;
            this.atWorkS = atWorkS;
            this.atIdleS = atIdleS;
            this.justLitS = justLitS;
        }

        static LagClass of(double lagS) {
            return lagS <= FAST.mostS ? FAST : lagS <= MIDDLE.mostS ? MIDDLE : SLOW;
        }

        /** The delay that is wanted, s; NaN where none is set. */
        double targetS(String phase) {
            return switch (phase) {
                case "at-work" -> atWorkS;
                case "at-idle" -> atIdleS;
                case "just-lit" -> justLitS;
                default -> Double.NaN;
            };
        }
    }

    static final List<String> PHASES = List.of("at-work", "at-idle", "just-lit", "otherwise");
    /** No ignition is to be told within this, s: the trial for ignition of NFPA 86. */
    static final double NO_IGNITION_TARGET_S = 15;

    private final List<BurnOutcome> outcomes;

    BenchTable(List<BurnOutcome> outcomes) {
        this.outcomes = List.copyOf(outcomes);
    }

    /** Flames that went out so that a delay can be told. */
    static boolean counts(BurnOutcome outcome) {
        return !Double.isNaN(outcome.outS()) && !stoodBefore(outcome);
    }

    private static boolean stoodBefore(BurnOutcome outcome) {
        return outcome.by().equals(BurnRun.STOOD_BEFORE);
    }

    static boolean missed(BurnOutcome outcome) {
        return counts(outcome) && Double.isNaN(outcome.delayS());
    }

    static boolean ignitionMissed(BurnOutcome outcome) {
        return outcome.kind().equals(BurnPlan.Kind.NO_IGNITION.code()) && Double.isNaN(outcome.noIgnitionS());
    }

    /** Whether the alarm came later than wanted; a miss is not late. */
    static boolean late(BurnOutcome outcome) {
        double target = LagClass.of(outcome.lagS()).targetS(outcome.phase());
        return counts(outcome) && outcome.delayS() > target;
    }

    /** The delays as CSV. */
    String csv() {
        StringBuilder out = new StringBuilder(
                "probe,phase,count,missed,p50S,p95S,p99S,maxS,wantedS,within,oracleP50S,oracleP95S\n");
        for (LagClass lag : LagClass.values()) {
            for (String phase : PHASES) {
                List<BurnOutcome> these = of(lag, phase);
                double[] delays = delays(these);
                double[] oracle = oracles(these);
                line(
                        out,
                        "%s,%s,%d,%d,%.2f,%.2f,%.2f,%.2f,%.0f,%d,%.2f,%.2f",
                        lag.name().toLowerCase(Locale.ROOT),
                        phase,
                        these.size(),
                        these.stream().filter(BenchTable::missed).count(),
                        part(delays, 0.5),
                        part(delays, 0.95),
                        part(delays, 0.99),
                        part(delays, 1),
                        lag.targetS(phase),
                        within(delays, lag.targetS(phase)),
                        part(oracle, 0.5),
                        part(oracle, 0.95));
            }
        }
        return out.toString();
    }

    private List<BurnOutcome> of(LagClass lag, String phase) {
        return outcomes.stream()
                .filter(BenchTable::counts)
                .filter(each -> LagClass.of(each.lagS()) == lag && each.phase().equals(phase))
                .toList();
    }

    private static double[] delays(List<BurnOutcome> these) {
        return sorted(these.stream().mapToDouble(BurnOutcome::delayS).toArray());
    }

    /** What even the oracle cannot tell within a minute counts as a minute. */
    private static double[] oracles(List<BurnOutcome> these) {
        return sorted(these.stream()
                .mapToDouble(each -> Double.isNaN(each.oracle().delayS())
                        ? Oracle.LONGEST_S
                        : each.oracle().delayS())
                .toArray());
    }

    private static long within(double[] delays, double targetS) {
        return Arrays.stream(delays).filter(delay -> delay <= targetS).count();
    }

    /** Everything. */
    String markdown() {
        StringBuilder out = new StringBuilder();
        delays(out);
        falseAlarms(out);
        calls(out);
        return out.toString();
    }

    private void delays(StringBuilder out) {
        out.append(
                "| probe lag | flame goes out | n | missed | p50 s | p95 s | p99 s | max s | wanted s | within | oracle p50 s | p95 s |\n");
        out.append("| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |\n");
        for (LagClass lag : LagClass.values()) {
            for (String phase : PHASES) {
                List<BurnOutcome> these = of(lag, phase);
                delayRow(out, lag, phase, these);
            }
        }
        long missed = outcomes.stream().filter(BenchTable::missed).count();
        long all = outcomes.stream().filter(BenchTable::counts).count();
        line(
                out,
                "%nMissed: %d of %d (not raised in 180 s); upper 95 %% limit of the share %.3f %%.",
                missed,
                all,
                100 * Poisson.upper95(missed) / Math.max(1, all));
        long stood = outcomes.stream().filter(BenchTable::stoodBefore).count();
        line(out, "Flames that went out while a false *flame out* stood, and are not counted: %d.", stood);
        double[] ratios = sorted(outcomes.stream()
                .filter(each -> List.of("at-work", "at-idle").contains(each.phase()))
                .mapToDouble(each -> each.oracle().stockFallK() / each.oracle().fallK())
                .toArray());
        line(
                out,
                "Fall in 4 s, rated stock over flame-out, at work or idle: p50 %.2f, p90 %.2f, max %.2f.",
                part(ratios, 0.5),
                part(ratios, 0.9),
                part(ratios, 1));
        List<BurnOutcome> ignitions = outcomes.stream()
                .filter(each -> each.kind().equals(BurnPlan.Kind.NO_IGNITION.code()))
                .toList();
        double[] waits =
                sorted(ignitions.stream().mapToDouble(BurnOutcome::noIgnitionS).toArray());
        line(
                out,
                "No ignition: %d, missed %d, within %d, p50 %.1f s, max %.1f s, wanted %.0f s.",
                ignitions.size(),
                ignitions.stream().filter(BenchTable::ignitionMissed).count(),
                within(waits, NO_IGNITION_TARGET_S),
                part(waits, 0.5),
                part(waits, 1),
                NO_IGNITION_TARGET_S);
        double[] left =
                sorted(outcomes.stream().mapToDouble(BurnOutcome::gasLeftOnS).toArray());
        line(out, "Gas left on: %d called, p50 %.1f s, max %.1f s.%n", left.length, part(left, 0.5), part(left, 1));
    }

    private static void delayRow(StringBuilder out, LagClass lag, String phase, List<BurnOutcome> these) {
        double[] delays = delays(these);
        double[] oracle = oracles(these);
        double target = lag.targetS(phase);
        boolean wanted = !Double.isNaN(target) && !these.isEmpty();
        line(
                out,
                "| %s | %s | %d | %d | %s | %s | %s | %s | %s | %s | %s | %s |",
                lag.title,
                phase,
                these.size(),
                these.stream().filter(BenchTable::missed).count(),
                figure(part(delays, 0.5)),
                figure(part(delays, 0.95)),
                figure(part(delays, 0.99)),
                figure(part(delays, 1)),
                figure(target),
                wanted ? figure(100.0 * within(delays, target) / these.size()) + " %" : "–",
                figure(part(oracle, 0.5)),
                figure(part(oracle, 0.95)));
    }

    private static String figure(double value) {
        return Double.isNaN(value) ? "–" : String.format(Locale.ROOT, "%.1f", value);
    }

    private void falseAlarms(StringBuilder out) {
        double hours = outcomes.stream().mapToDouble(BurnOutcome::litH).sum();
        long outs = outcomes.stream()
                .mapToLong(each -> each.falseFlameOuts().size())
                .sum();
        long burns = outcomes.stream()
                .filter(each -> !each.falseFlameOuts().isEmpty())
                .count();
        long ignitions = outcomes.stream()
                .mapToLong(each -> each.falseNoIgnitions().size())
                .sum();
        line(
                out,
                "False *flame out*: %d in %d burns, in %.1f h of flame; upper 95 %% limit %.2f in 1000 h.",
                outs,
                burns,
                hours,
                1_000 * Poisson.upper95(outs) / hours);
        line(
                out,
                "False *no ignition*: %d in %d burns; upper 95 %% limit %.2f in 1000 burns.%n",
                ignitions,
                outcomes.size(),
                1_000 * Poisson.upper95(ignitions) / Math.max(1, outcomes.size()));
    }

    private void calls(StringBuilder out) {
        Map<Integer, Integer> burnsWithWorst = new TreeMap<>();
        Map<String, Integer> byAlarm = new TreeMap<>();
        for (BurnOutcome outcome : outcomes) {
            burnsWithWorst.merge(outcome.worstIn10Min(), 1, Integer::sum);
            outcome.annunciations().forEach((alarm, count) -> byAlarm.merge(alarm, count, Integer::sum));
        }
        out.append("| most calls in 10 min | burns |\n| --- | --- |\n");
        burnsWithWorst.forEach((worst, burns) -> line(out, "| %d | %d |", worst, burns));
        out.append("\n| alarm | calls |\n| --- | --- |\n");
        byAlarm.forEach((alarm, count) -> line(out, "| %s | %d |", alarm, count));
    }

    /** One line for each burn that went wrong. */
    String faults() {
        StringBuilder out = new StringBuilder();
        for (BurnOutcome each : outcomes) {
            if (missed(each)) {
                line(
                        out,
                        "%d missed: %s, lag %.1f s (said %.1f), %.0f °C, %.0f Pa, after %s",
                        each.seed(),
                        each.phase(),
                        each.lagS(),
                        each.believedLagS(),
                        each.probeC(),
                        each.gasPa(),
                        each.before());
            }
            if (ignitionMissed(each)) {
                line(out, "%d no ignition missed: lag %.1f s", each.seed(), each.lagS());
            }
            if (late(each)) {
                line(
                        out,
                        "%d late: %.1f s, %s, lag %.1f s (said %.1f), %.0f °C, %.0f Pa, after %s",
                        each.seed(),
                        each.delayS(),
                        each.phase(),
                        each.lagS(),
                        each.believedLagS(),
                        each.probeC(),
                        each.gasPa(),
                        each.before());
            }
            for (BurnOutcome.FalseAlarm one : each.falseFlameOuts()) {
                falseLine(out, each, one, "flame out");
            }
            for (BurnOutcome.FalseAlarm one : each.falseNoIgnitions()) {
                falseLine(out, each, one, "no ignition");
            }
        }
        return out.toString();
    }

    private static void falseLine(StringBuilder out, BurnOutcome each, BurnOutcome.FalseAlarm one, String alarm) {
        line(
                out,
                "%d false %s: at %.1f s, lag %.1f s (said %.1f), %.0f °C, %.0f Pa, after %s",
                each.seed(),
                alarm,
                one.timeS(),
                each.lagS(),
                each.believedLagS(),
                one.probeC(),
                one.gasPa(),
                one.before());
    }

    private static void line(StringBuilder out, String pattern, Object... values) {
        out.append(String.format(Locale.ROOT, pattern, values)).append('\n');
    }

    /** In order, without what is not known. */
    static double[] sorted(double[] values) {
        return Arrays.stream(values).filter(Double::isFinite).sorted().toArray();
    }

    /** The value that a part of them does not exceed; NaN of none. */
    static double part(double[] sorted, double part) {
        return sorted.length == 0
                ? Double.NaN
                : sorted[(int) Math.min(sorted.length - 1, Math.floor(part * sorted.length))];
    }
}
