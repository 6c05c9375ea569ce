package org.bankfire.daemon.figures;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** Two ways to do the same, by turns, so that whatever else the machine does falls upon both. */
final class Duel {
    /** One turn: does the work and gives its rate, in things a second. */
    interface Turn {
        double rate() throws Exception;
    }

    /** Median rates of both. */
    record Result(double ours, double theirs, int rounds) {
        double ratio() {
            return ours / theirs;
        }

        Figure figure(String what, String unit, String beside, String target, Figure.Verdict verdict) {
            return new Figure(
                    what,
                    String.format(Locale.ROOT, "%,.0f %s", ours, unit),
                    String.format(Locale.ROOT, "%s: %,.0f %s", beside, theirs, unit),
                    String.format(Locale.ROOT, "%.2f", ratio()),
                    target,
                    verdict);
        }
    }

    private Duel() {}

    /** One round of each that does not count, then {@code rounds} of each. */
    static Result of(int rounds, Turn ours, Turn theirs) throws Exception {
        List<Double> our = new ArrayList<>();
        List<Double> their = new ArrayList<>();
        for (int i = 0; i <= rounds; i++) {
            double one = ours.rate();
            double other = theirs.rate();
            if (i > 0) {
                our.add(one);
                their.add(other);
            }
        }
        return new Result(new Spread(our).median(), new Spread(their).median(), rounds);
    }
}
