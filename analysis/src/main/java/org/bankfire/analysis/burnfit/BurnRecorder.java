package org.bankfire.analysis.burnfit;

import java.util.ArrayList;
import java.util.List;
import org.bankfire.analysis.burnfit.BurnRecord.Stretch;

/**
 * Gathers a burn's readings into a {@link BurnRecord} of bounded size: even cells of a second, which become twice as long
 * whenever the burn outgrows them; at the end, neighbours in which little happens are joined. Times are in seconds since
 * the burn's start and may come in any order. Not safe for use by several threads.
 */
public final class BurnRecorder {
    /** Cells kept: an hour by the second, twelve hours by the quarter of a minute. Some 100 kB. */
    private static final int MOST_CELLS = 4096;
    /** Stretches of a record: each costs the fit a step, and more of them tell it no more. */
    private static final int MOST_STRETCHES = 600;

    private static final double FIRST_CELL_S = 1;
    /** Later than a week is no burn. */
    private static final double LATEST_S = 7 * 86_400;
    /** Within a stretch the temperature changes by no more than this, and the pressure by no more than a share of it. */
    private static final double LEVEL_K = 3;

    private static final double LEVEL_SHARE = 0.03;
    private static final double LEVEL_PA = 300;
    private static final double LONGEST_S = 60;
    private static final double GROWTH = 1.3;
    /** Wider and wider levels; then a record of many hands keeps its many stretches. */
    private static final int ROUNDS = 12;

    private final CellMeans chamber = new CellMeans(MOST_CELLS);
    private final CellMeans gas = new CellMeans(MOST_CELLS);
    private final CellMeans ambient = new CellMeans(MOST_CELLS);
    private final List<Change> changes = new ArrayList<>();
    private double cellLengthS = FIRST_CELL_S;
    private int cells;
    private long samples;
    private double firstCylinderKg = Double.NaN;
    private double lastCylinderKg = Double.NaN;
    private double cylinderUncertaintyKg = Double.NaN;

    private enum What {
        LIT,
        PLUG,
        STOCK
    }

    /** Hands move a few times an hour; beyond this many moves the earliest stay and later ones are not noted. */
    private static final int MOST_CHANGES = 2000;

    private record Change(double timeS, What what, boolean on) {}

    /** A good chamber temperature, K. */
    public void chamber(double timeS, double kelvin) {
        int cell = cell(timeS);
        if (cell >= 0 && Double.isFinite(kelvin)) {
            chamber.add(cell, kelvin);
            samples++;
        }
    }

    /** A good gas pressure, Pa gauge. */
    public void gas(double timeS, double gaugePa) {
        int cell = cell(timeS);
        if (cell >= 0 && Double.isFinite(gaugePa)) {
            gas.add(cell, gaugePa);
        }
    }

    /** A good temperature of the surroundings, K. */
    public void ambient(double timeS, double kelvin) {
        int cell = cell(timeS);
        if (cell >= 0 && Double.isFinite(kelvin)) {
            ambient.add(cell, kelvin);
        }
    }

    /** The burner burns from now on, or does not though gas flows; it is taken to burn until told otherwise. */
    public void lit(double timeS, boolean on) {
        change(new Change(timeS, What.LIT, on));
    }

    /** The plug is in from now on, or out; it is taken to be in until told otherwise. */
    public void plug(double timeS, boolean in) {
        change(new Change(timeS, What.PLUG, in));
    }

    /** Stock is in from now on, or out; the chamber is taken to be empty until told otherwise. */
    public void stock(double timeS, boolean in) {
        change(new Change(timeS, What.STOCK, in));
    }

    /**
     * The cylinder's mass at some time; the first and the last tell the gas used.
     *
     * @param massKg kg
     * @param uncertaintyKg standard uncertainty of one weighing, kg
     */
    public void cylinder(double massKg, double uncertaintyKg) {
        if (Double.isFinite(massKg) && uncertaintyKg > 0) {
            firstCylinderKg = Double.isNaN(firstCylinderKg) ? massKg : firstCylinderKg;
            lastCylinderKg = massKg;
            cylinderUncertaintyKg = uncertaintyKg;
        }
    }

    /** Forgets the plug, the stock and the weighings, which are told anew: somebody has corrected what was written down. */
    public void forgetHands() {
        changes.removeIf(change -> change.what() != What.LIT);
        firstCylinderKg = Double.NaN;
        lastCylinderKg = Double.NaN;
        cylinderUncertaintyKg = Double.NaN;
    }

    private void change(Change change) {
        if (changes.size() < MOST_CHANGES && change.timeS() < LATEST_S) {
            changes.add(change);
        }
    }

    private int cell(double timeS) {
        if (!(timeS >= 0 && timeS < LATEST_S)) {
            return -1;
        }
        while (timeS / cellLengthS >= MOST_CELLS) {
            joinPairs();
        }
        int cell = (int) (timeS / cellLengthS);
        cells = Math.max(cells, cell + 1);
        return cell;
    }

    private void joinPairs() {
        chamber.joinPairs();
        gas.joinPairs();
        ambient.joinPairs();
        cells = (cells + 1) / 2;
        cellLengthS *= 2;
    }

    /** What was gathered so far. */
    public BurnRecord record() {
        List<Stretch> all = cells();
        double level = LEVEL_K;
        List<Stretch> joined = join(all, level);
        for (int round = 0; joined.size() > MOST_STRETCHES && round < ROUNDS; round++) {
            level *= 1.5;
            joined = join(all, level);
        }
        double used = firstCylinderKg - lastCylinderKg;
        return new BurnRecord(joined, samples, used > 0 ? used : Double.NaN, Math.sqrt(2) * cylinderUncertaintyKg);
    }

    private List<Stretch> cells() {
        List<Change> sorted = new ArrayList<>(changes);
        sorted.sort((a, b) -> Double.compare(a.timeS(), b.timeS()));
        boolean lit = true;
        boolean plugIn = true;
        boolean stockIn = false;
        int next = 0;
        double gaugePa = Double.NaN;
        List<Stretch> stretches = new ArrayList<>(cells);
        for (int i = 0; i < cells; i++) {
            double middleS = (i + 0.5) * cellLengthS;
            while (next < sorted.size() && sorted.get(next).timeS() <= middleS) {
                Change change = sorted.get(next++);
                lit = change.what() == What.LIT ? change.on() : lit;
                plugIn = change.what() == What.PLUG ? change.on() : plugIn;
                stockIn = change.what() == What.STOCK ? change.on() : stockIn;
            }
            // A pressure holds until the next one is known.
            gaugePa = gas.count(i) > 0 ? gas.mean(i) : gaugePa;
            stretches.add(new Stretch(
                    i * cellLengthS,
                    (i + 1) * cellLengthS,
                    chamber.mean(i),
                    chamber.count(i),
                    gaugePa,
                    ambient.mean(i),
                    lit,
                    plugIn,
                    stockIn));
        }
        return stretches;
    }

    /** Joins neighbours while temperature and pressure stay level; a stretch is little longer than the one before it. */
    private static List<Stretch> join(List<Stretch> cells, double levelK) {
        List<Stretch> joined = new ArrayList<>();
        double wholeS = cells.isEmpty() ? 0 : cells.get(cells.size() - 1).endS();
        double longestS = Math.max(LONGEST_S, 2 * wholeS / MOST_STRETCHES);
        double mostS = 0;
        int from = 0;
        while (from < cells.size()) {
            Stretch first = cells.get(from);
            mostS = Math.min(longestS, mostS * GROWTH + first.lengthS());
            int to = from + 1;
            while (to < cells.size()
                    && cells.get(to).endS() - first.startS() <= mostS
                    && level(first, cells.get(to), levelK)) {
                to++;
            }
            Stretch stretch = mean(cells.subList(from, to));
            joined.add(stretch);
            mostS = stretch.lengthS();
            from = to;
        }
        return joined;
    }

    private static boolean level(Stretch first, Stretch next, double levelK) {
        boolean sameHands =
                first.lit() == next.lit() && first.plugIn() == next.plugIn() && first.stockIn() == next.stockIn();
        boolean sameHeat = Double.isNaN(first.chamberK())
                || Double.isNaN(next.chamberK())
                || Math.abs(next.chamberK() - first.chamberK()) <= levelK;
        double pascal = Math.max(LEVEL_PA, LEVEL_SHARE * Math.abs(first.gaugePa()));
        boolean sameGas = Double.isNaN(first.gaugePa())
                ? Double.isNaN(next.gaugePa())
                : Math.abs(next.gaugePa() - first.gaugePa()) <= pascal;
        return sameHands && sameHeat && sameGas;
    }

    private static Stretch mean(List<Stretch> cells) {
        Stretch first = cells.get(0);
        double chamber = 0;
        int count = 0;
        double gas = 0;
        double ambient = 0;
        int ambients = 0;
        for (Stretch cell : cells) {
            if (cell.samples() > 0) {
                chamber += cell.chamberK() * cell.samples();
                count += cell.samples();
            }
            gas += cell.gaugePa();
            if (!Double.isNaN(cell.ambientK())) {
                ambient += cell.ambientK();
                ambients++;
            }
        }
        return new Stretch(
                first.startS(),
                cells.get(cells.size() - 1).endS(),
                count > 0 ? chamber / count : Double.NaN,
                count,
                gas / cells.size(),
                ambients > 0 ? ambient / ambients : Double.NaN,
                first.lit(),
                first.plugIn(),
                first.stockIn());
    }
}
