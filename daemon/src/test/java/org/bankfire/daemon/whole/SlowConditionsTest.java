package org.bankfire.daemon.whole;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.burn.BurnBoundary;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.monitor.ForgeConditions;
import org.bankfire.analysis.monitor.ForgeListener;
import org.bankfire.analysis.monitor.ForgeMonitor;
import org.bankfire.analysis.monitor.MonitorSettings;
import org.bankfire.analysis.monitor.SourceEvent;
import org.bankfire.analysis.reading.Channel;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.reading.WallTime;
import org.bankfire.daemon.acquire.virtual.VirtualForge;
import org.bankfire.daemon.testbed.RandomBurn;
import org.junit.jupiter.api.Test;

/** The slower conditions on virtual forges, whose equations the analysis does not share. */
class SlowConditionsTest {
    private static final Set<AlarmId> SLOW =
            Set.of(AlarmId.GAS_FALLING, AlarmId.MIXTURE_FLUTTER, AlarmId.FIRST_FIRE_RATE, AlarmId.SHELL_HIGH);

    private static final WallTime START = WallTime.ofEpochSeconds(1_772_359_212);

    @Test
    void ordinaryBurnsOfRandomForgesRaiseNoneOfThemAndTheShellIsPredictedAsUncertainAsItIs() {
        int within = 0;
        int count = 0;
        for (long seed = 12; seed < 24; seed++) {
            RandomBurn burn = RandomBurn.of(seed);
            Watched watched = new Watched(burn.description());
            for (int i = 0; i < burn.size(); i++) {
                double t = burn.timeS()[i];
                watched.reading(ChannelNames.AMBIENT, t, burn.ambientC()[i], Unit.CELSIUS);
                watched.reading(ChannelNames.CHAMBER, t, burn.chamberC()[i], Unit.CELSIUS);
                watched.reading(ChannelNames.GAS, t, burn.gasPa()[i], Unit.PASCAL);
            }
            assertThat(watched.alarms).as("seed %d", seed).noneMatch(transition -> SLOW.contains(transition.alarm()));
            ForgeConditions conditions = watched.monitor.snapshot().conditions();
            double offK = conditions.predictedShellC() - burn.shellC()[burn.size() - 1];
            within += Math.abs(offK) <= 2 * conditions.predictedShellStandardUncertaintyK() + 2 ? 1 : 0;
            count++;
        }
        assertThat(within)
                .as("of %d within twice the stated uncertainty", count)
                .isGreaterThanOrEqualTo(count * 3 / 4);
    }

    @Test
    void aCylinderThatRunsEmptyIsToldWhileThereIsTimeToChangeIt() {
        VirtualForge forge = new VirtualForge(7);
        Watched watched = new Watched(RandomBurn.of(7).description());
        forge.setPressure(VirtualForge.WORK_PA);
        forge.openGas();
        forge.light();
        // Hours of steady burning are passed over; the last half kilogram is watched.
        while (forge.contentsKg() > 0.5) {
            forge.step(1);
        }
        double halfAtS = Double.NaN;
        for (double t = 0; t < 3 * 3_600 && Double.isNaN(halfAtS); t += 0.25) {
            forge.step(0.25);
            watched.reading(ChannelNames.CHAMBER, t, forge.probeC(), Unit.CELSIUS);
            watched.reading(ChannelNames.GAS, t, forge.pressurePa(), Unit.PASCAL);
            halfAtS = forge.pressurePa() < VirtualForge.WORK_PA / 2 ? t : Double.NaN;
        }
        AlarmTransition raised = watched.alarms.stream()
                .filter(transition -> transition.alarm() == AlarmId.GAS_FALLING)
                .findFirst()
                .orElseThrow();
        double leftMin = (halfAtS - raised.time().secondsSince(START)) / 60;
        assertThat(leftMin).isGreaterThan(3);
        assertThat(raised.value()).isBetween(0.5 * leftMin, 2 * leftMin);
        assertThat(raised.why()).contains("at a regulator that nobody touched", "min are left");
    }

    /** A monitored forge and its alarms. */
    private static final class Watched implements ForgeListener {
        final List<AlarmTransition> alarms = new ArrayList<>();
        final ForgeMonitor monitor;
        private final String id;

        Watched(ForgeDescription description) {
            id = description.id();
            monitor = new ForgeMonitor(description, MonitorSettings.defaults(), this);
        }

        void reading(String channel, double seconds, double value, Unit unit) {
            WallTime time = START.plusSeconds(seconds);
            monitor.accept(Reading.good(new Channel(id, channel), value, unit, time, time));
        }

        @Override
        public void onAlarm(AlarmTransition transition) {
            alarms.add(transition);
        }

        @Override
        public void onBurnBoundary(BurnBoundary boundary) {}

        @Override
        public void onBurn(Burn burn) {}

        @Override
        public void onSource(SourceEvent event) {}

        @Override
        public void onSetting(Setting setting) {}
    }
}
