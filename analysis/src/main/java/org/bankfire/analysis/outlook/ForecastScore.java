package org.bankfire.analysis.outlook;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import org.bankfire.analysis.outlook.Score.Compared;
import org.bankfire.analysis.prediction.Band;
import org.jspecify.annotations.Nullable;

/**
 * Compares forecasts with what happens. After each touch of the regulator the first outlook that is five minutes or more
 * younger counts: its temperature when steady, at the moment when it says that will be. Whatever else is touched before that
 * moment takes the forecast out of the comparison. Bounded; not safe for use by several threads.
 */
public final class ForecastScore {
    /** What the first minutes after a touch say of the flame is needed to judge it. */
    public static final double AFTER_TOUCH_S = 300;
    /** A forecast of what is steady already is of some minutes ahead at least. */
    private static final double LEAST_AHEAD_S = 300;
    /** Readings this near to the moment make its mean. */
    private static final double ABOUT_S = 30;

    private @Nullable Compared pending;
    private final Deque<Compared> latest = new ArrayDeque<>();
    private double judgedTouchS = Double.NaN;
    private double sumK;
    private int readings;
    private long count;
    private double errors;
    private double squares;
    private long inBand;

    /** Takes an outlook; of one burn in rising time. */
    public void outlook(Outlook outlook) {
        Compared waiting = pending;
        if (waiting != null && isMoved(waiting, outlook)) {
            pending = null;
        }
        if (pending == null && outlook.touchedS() != judgedTouchS) {
            outlook.settling().ifPresent(settling -> keep(outlook, settling));
        }
    }

    private static boolean isMoved(Compared waiting, Outlook outlook) {
        return outlook.touchedS() != waiting.touchedS()
                || outlook.doubts().stream()
                        .anyMatch(doubt -> doubt == Doubt.NOT_LIT
                                || doubt == Doubt.STOCK_IN
                                || doubt == Doubt.STOCK_OUT
                                || doubt == Doubt.PLUG_MOVED);
    }

    private void keep(Outlook outlook, Settling settling) {
        if (!(outlook.atS() - outlook.touchedS() >= AFTER_TOUCH_S)) {
            return;
        }
        Band forecastK = settling.steadyK();
        double aheadS = settling.untilS().value();
        if (aheadS < LEAST_AHEAD_S) {
            Settling.Point ahead = pointAt(settling.curve(), LEAST_AHEAD_S);
            forecastK = ahead.chamberK();
            aheadS = ahead.aheadS();
        }
        if (Double.isNaN(aheadS) || Double.isNaN(forecastK.value())) {
            return;
        }
        Compared kept = new Compared(
                outlook.touchedS(),
                outlook.beforePa(),
                settling.gaugePa(),
                outlook.atS(),
                outlook.atS() + aheadS,
                forecastK,
                Double.NaN);
        if (isMoved(kept, outlook)) {
            return;
        }
        judgedTouchS = outlook.touchedS();
        pending = kept;
        sumK = 0;
        readings = 0;
    }

    private static Settling.Point pointAt(List<Settling.Point> curve, double aheadS) {
        return curve.stream()
                .filter(point -> point.aheadS() >= aheadS)
                .findFirst()
                .orElse(curve.get(curve.size() - 1));
    }

    /**
     * Takes a good chamber reading.
     *
     * @param timeS s since the burn's start, rising
     * @param chamberK K
     */
    public void reading(double timeS, double chamberK) {
        Compared waiting = pending;
        if (waiting == null || timeS < waiting.dueS() - ABOUT_S) {
            return;
        }
        if (timeS <= waiting.dueS() + ABOUT_S) {
            sumK += chamberK;
            readings++;
            return;
        }
        pending = null;
        if (readings > 0) {
            compare(new Compared(
                    waiting.touchedS(),
                    waiting.beforePa(),
                    waiting.gaugePa(),
                    waiting.madeS(),
                    waiting.dueS(),
                    waiting.forecastK(),
                    sumK / readings));
        }
    }

    private void compare(Compared compared) {
        count++;
        errors += compared.errorK();
        squares += compared.errorK() * compared.errorK();
        inBand += compared.isInBand() ? 1 : 0;
        latest.addLast(compared);
        if (latest.size() > Score.MOST_LATEST) {
            latest.removeFirst();
        }
    }

    /** Another burn begins, on its own time: what was not due yet is dropped, what was compared stays. */
    public void newBurn() {
        pending = null;
        judgedTouchS = Double.NaN;
    }

    /** How the forecasts did so far. */
    public Score score() {
        return new Score(
                count,
                count > 0 ? errors / count : Double.NaN,
                count > 0 ? Math.sqrt(squares / count) : Double.NaN,
                count > 0 ? (double) inBand / count : Double.NaN,
                List.copyOf(latest));
    }
}
