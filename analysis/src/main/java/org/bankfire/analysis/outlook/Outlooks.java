package org.bankfire.analysis.outlook;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.bankfire.analysis.burnfit.BurnRecord;
import org.bankfire.analysis.burnfit.BurnRecord.Stretch;
import org.bankfire.analysis.burnfit.RecordDrive;
import org.bankfire.analysis.prediction.KnownForge;

/** Looks ahead of a burn that is going on. */
public final class Outlooks {
    /** A chamber reading older than this says nothing of now. */
    private static final double STALE_S = 120;
    /** A burn must have burned for so long. */
    private static final double SHORT_S = 60;
    /** For so long a move of the plug is new. */
    private static final double MOVED_S = 300;
    /** Forges that agree no better with a burn after they learnt of it are not of its kind. */
    private static final double MISFIT_K = 25;
    /** A forge that starts this much above ambient is still warm from before. */
    private static final double WARM_K = 60;

    private Outlooks() {}

    /**
     * Looks ahead.
     *
     * @param forge what is known of it, with members
     * @param soFar the burn so far, from gas on, in stretches as {@link org.bankfire.analysis.burnfit.BurnRecorder} makes them
     * @param settings what the user wants of it
     */
    public static Outlook of(KnownForge forge, BurnRecord soFar, OutlookSettings settings) {
        RecordDrive drive = new RecordDrive(forge.description());
        List<Stretch> stretches = soFar.stretches();
        Regulator regulator = Regulator.of(stretches, RecordDrive.GAS_ON_PA);
        List<Doubt> doubts = doubts(forge, stretches, regulator, drive);
        if (doubts.stream().anyMatch(Doubt::isSilencing)) {
            return silent(forge, soFar, regulator, lastK(stretches), doubts);
        }
        Present present = Present.of(forge, soFar);
        if (!(present.leftK() <= MISFIT_K)) {
            doubts.add(Doubt.MISFIT);
            return silent(forge, soFar, regulator, lastK(stretches), doubts);
        }
        Stretch last = stretches.get(stretches.size() - 1);
        double workingPa = Double.isNaN(settings.workingPa()) ? regulator.workingPa() : settings.workingPa();
        Idling.Around around = new Idling.Around(
                regulator.gaugePa(),
                Double.isNaN(workingPa) ? forge.description().burner().heatUpPressurePa() : workingPa,
                last.plugIn(),
                drive.ambientK(last));
        Ahead ahead = new Ahead(present, regulator.gaugePa(), settings.targetK());
        return new Outlook(
                soFar.endS(),
                forge.basis(),
                ahead.best().chamberK(0),
                regulator.gaugePa(),
                regulator.touchedS(),
                regulator.beforePa(),
                present.missK(),
                Optional.of(ahead.settling(settings.steadyKPerMin(), last.plugIn(), around.ambientK())),
                Optional.of(new Idling(present, ahead, settings, around).advice()),
                doubts);
    }

    private static Outlook silent(
            KnownForge forge, BurnRecord soFar, Regulator regulator, double chamberK, List<Doubt> doubts) {
        return new Outlook(
                soFar.endS(),
                forge.basis(),
                chamberK,
                regulator.gaugePa(),
                regulator.touchedS(),
                regulator.beforePa(),
                Double.NaN,
                Optional.empty(),
                Optional.empty(),
                doubts);
    }

    private static double lastK(List<Stretch> stretches) {
        for (int i = stretches.size() - 1; i >= 0; i--) {
            if (stretches.get(i).samples() > 0) {
                boolean fresh = stretches.get(stretches.size() - 1).endS()
                                - stretches.get(i).endS()
                        <= STALE_S;
                return fresh ? stretches.get(i).chamberK() : Double.NaN;
            }
        }
        return Double.NaN;
    }

    private static List<Doubt> doubts(
            KnownForge forge, List<Stretch> stretches, Regulator regulator, RecordDrive drive) {
        List<Doubt> doubts = new ArrayList<>();
        if (stretches.isEmpty()) {
            doubts.add(Doubt.SHORT);
            return doubts;
        }
        Stretch last = stretches.get(stretches.size() - 1);
        if (Double.isNaN(lastK(stretches))) {
            doubts.add(Doubt.NO_CHAMBER);
        }
        if (Double.isNaN(last.gaugePa())) {
            doubts.add(Doubt.NO_PRESSURE);
        } else if (!last.lit() || !(regulator.gaugePa() > RecordDrive.GAS_ON_PA)) {
            doubts.add(Doubt.NOT_LIT);
        } else if (litS(stretches) < SHORT_S) {
            doubts.add(Doubt.SHORT);
        }
        if (forge.basis() == KnownForge.Basis.DESCRIBED) {
            doubts.add(Doubt.NO_FIT);
        }
        hands(stretches, last, doubts);
        if (drive.startK(stretches) - drive.ambientK(stretches.get(0)) > WARM_K) {
            doubts.add(Doubt.WARM_START);
        }
        return doubts;
    }

    private static double litS(List<Stretch> stretches) {
        return stretches.stream()
                .filter(stretch -> stretch.lit() && stretch.gaugePa() > RecordDrive.GAS_ON_PA)
                .mapToDouble(Stretch::lengthS)
                .sum();
    }

    private static void hands(List<Stretch> stretches, Stretch last, List<Doubt> doubts) {
        boolean stockWasIn = false;
        boolean plugMoved = false;
        for (Stretch stretch : stretches) {
            double agoS = last.endS() - stretch.endS();
            stockWasIn |= stretch.stockIn() && agoS < RecordDrive.FORGOTTEN_AFTER_S;
            plugMoved |= stretch.plugIn() != last.plugIn() && agoS < MOVED_S;
        }
        if (last.stockIn()) {
            doubts.add(Doubt.STOCK_IN);
        } else if (stockWasIn) {
            doubts.add(Doubt.STOCK_OUT);
        }
        if (!last.plugIn()) {
            doubts.add(Doubt.PLUG_OUT);
        }
        if (plugMoved) {
            doubts.add(Doubt.PLUG_MOVED);
        }
    }
}
