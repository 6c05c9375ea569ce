package org.bankfire.analysis.monitor;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;
import static org.assertj.core.api.Assertions.within;
import static org.bankfire.analysis.monitor.Shed.at;

import java.util.List;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.bankfire.analysis.alarm.AlarmId;
import org.bankfire.analysis.alarm.AlarmState;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.flame.BenchForge;
import org.bankfire.analysis.gas.Cylinder;
import org.bankfire.analysis.gas.Fuel;
import org.bankfire.analysis.lining.FirstFiring;
import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.junit.jupiter.api.Test;

/** The slower conditions through the whole monitor: raised, told with their figures, cleared, and silent otherwise. */
class ConditionsTest {
    private static final List<AlarmId> SLOW = List.of(
            AlarmId.GAS_FALLING,
            AlarmId.MIXTURE_FLUTTER,
            AlarmId.FIRST_FIRE_RATE,
            AlarmId.WIRE_OVER_TEMPERATURE,
            AlarmId.SHELL_HIGH);

    private static ConditionSettings cylinder(double lowestPa) {
        return new ConditionSettings(new Cylinder(Fuel.PROPANE, 11, 10.5, 5), lowestPa, FirstFiring.NONE, Double.NaN);
    }

    private static ConditionSettings wire(double limitC) {
        return new ConditionSettings(null, Double.NaN, FirstFiring.NONE, limitC);
    }

    private static ConditionSettings firing() {
        FirstFiring firing = new FirstFiring(
                List.of(new FirstFiring.Step(120, 60 / 3600.0, 1_800), new FirstFiring.Step(600, 200 / 3600.0, 0)));
        return new ConditionSettings(null, Double.NaN, firing, Double.NaN);
    }

    @Test
    void ordinaryBurnsRaiseNoneOfThem() {
        for (int seed = 1; seed <= 6; seed++) {
            Shed shed = new Shed(12, cylinder(1.5e4));
            BenchForge forge = new BenchForge(seed, 12);
            Random noise = new Random(seed);
            double[] pressures = {20e3, 60e3, 35e3, 8e3, 45e3};
            for (int minute = 0; minute < 75; minute++) {
                forge.pressurePa = minute < 1 || minute > 70 ? 0 : pressures[minute / 15];
                forge.lit = forge.pressurePa > 0;
                if (minute == 40) {
                    shed.monitor.accept(new Setting(Shed.ID, at(forge.timeS()), Setting.PLUG, "out", ""));
                    forge.plugOut = true;
                }
                for (int i = 0; i < 240; i++) {
                    forge.run(0.25);
                    double pascal = forge.pressurePa * (1 + 0.003 * noise.nextGaussian());
                    shed.accept(Shed.chamber(forge.timeS(), forge.reading()), Shed.gas(forge.timeS(), pascal));
                }
            }
            assertThat(shed.alarms).as("seed %d", seed).noneMatch(transition -> SLOW.contains(transition.alarm()));
            ForgeConditions conditions = shed.monitor.snapshot().conditions();
            assertThat(conditions.predictedShellC()).isGreaterThan(30);
            assertThat(conditions.gasLeft().best()).isNaN();
        }
    }

    @Test
    void aLightCylinderThatSagsIsToldToBeEmptyingWithTheMinutesToTheMarkedPressure() {
        Shed shed = new Shed(12, cylinder(4e4));
        Burning burning = new Burning(shed);
        burning.run(400, t -> 1e5, 10.9);
        burning.run(1_000, t -> 1e5 * Math.exp(-(t - 400) / 900), 10.7);
        AlarmTransition raised = only(shed, AlarmId.GAS_FALLING);
        assertThat(raised.priority()).isEqualTo(AlarmId.GAS_FALLING.usualPriority());
        assertThat(raised.why())
                .contains("sagged from ", "min are left", "until 0.40 bar", "you marked as stable")
                .contains("The cylinder is all but empty", "Change the cylinder");
        double truthMin = (400 + 900 * Math.log(2.5) - raised.time().secondsSince(Shed.START)) / 60;
        assertThat(raised.value()).isCloseTo(truthMin, within(0.35 * truthMin));
        assertThat(shed.monitor.snapshot().conditions().gasLeftToPa()).isEqualTo(4e4);
        burning.run(1_020, t -> 1e5, 21);
        assertThat(shed.states(AlarmId.GAS_FALLING))
                .containsExactly(AlarmState.UNACKNOWLEDGED, AlarmState.RETURNED_UNACKNOWLEDGED);
    }

    @Test
    void withoutACylinderTheCauseIsLeftOpenAndHalfThePresentPressureIsNamed() {
        Shed shed = new Shed();
        Burning burning = new Burning(shed);
        burning.run(400, t -> 1e5, Double.NaN);
        burning.run(1_000, t -> 1e5 * Math.exp(-(t - 400) / 900), Double.NaN);
        assertThat(only(shed, AlarmId.GAS_FALLING).why())
                .contains("half of the present pressure", "It cannot be told from what is known", "Weigh the cylinder");
        burning.run(1_010, t -> 0, Double.NaN);
        burning.run(1_030, t -> 0, Double.NaN);
        assertThat(shed.transitions(AlarmId.GAS_FALLING))
                .extracting(AlarmTransition::why)
                .endsWith("The gas is off.");
    }

    @Test
    void aFlutteringPressureIsToldAgainstWhatIsUsualAndClears() {
        Shed shed = new Shed();
        Burning burning = new Burning(shed);
        burning.noise = 0.004;
        burning.run(500, t -> 6e4, Double.NaN);
        assertThat(shed.monitor.snapshot().conditions().pressureFlutterBaseline())
                .isBetween(0.002, 0.006);
        burning.noise = 0.02;
        burning.run(700, t -> 6e4, Double.NaN);
        AlarmTransition raised = only(shed, AlarmId.MIXTURE_FLUTTER);
        assertThat(raised.why())
                .contains("The gas pressure flutters by", "% of itself, against 0.", "Listen to the flame");
        assertThat(raised.value()).isBetween(2.5, 6.0);
        burning.noise = 0.004;
        burning.run(900, t -> 6e4, Double.NaN);
        assertThat(shed.states(AlarmId.MIXTURE_FLUTTER))
                .containsExactly(AlarmState.UNACKNOWLEDGED, AlarmState.RETURNED_UNACKNOWLEDGED);
    }

    @Test
    void anotherChokeOrAnotherPressureIsLearntAnewAndRaisesNothing() {
        Shed shed = new Shed();
        Burning burning = new Burning(shed);
        burning.noise = 0.004;
        burning.run(500, t -> 6e4, Double.NaN);
        shed.monitor.accept(new Setting(Shed.ID, at(500), "setting-choke", "30", "%"));
        burning.noise = 0.02;
        burning.run(1_000, t -> 6e4, Double.NaN);
        burning.noise = 0.05;
        burning.run(1_500, t -> 2e4, Double.NaN);
        assertThat(shed.transitions(AlarmId.MIXTURE_FLUTTER)).isEmpty();
    }

    @Test
    void aNewLiningThatIsLitAsUsualIsToldWhatItsScheduleAllowsAndKeepsItsSteps() {
        Shed shed = new Shed(12, firing());
        chamber(shed, 0, 60, t -> 20);
        chamber(shed, 60, 130, t -> 20 + 1.5 * (t - 60));
        AlarmTransition raised = only(shed, AlarmId.FIRST_FIRE_RATE);
        assertThat(raised.why()).contains("step 1 of the first firing allows 60 K/h up to 120 °C", "Turn the gas down");
        chamber(shed, 130, 500, t -> 118);
        assertThat(shed.states(AlarmId.FIRST_FIRE_RATE))
                .containsExactly(AlarmState.UNACKNOWLEDGED, AlarmState.RETURNED_UNACKNOWLEDGED);
        chamber(shed, 500, 2_400, t -> 118);
        assertThat(shed.settings)
                .extracting(Setting::name, Setting::value)
                .containsExactly(tuple("setting-first-fire", "1"));
        assertThat(shed.monitor.snapshot().conditions().firstFireStep()).isEqualTo(2);

        Shed restarted = new Shed(12, firing());
        restarted.monitor.accept(shed.settings.get(0));
        restarted.monitor.accept(new Setting(Shed.ID, at(-9_000), "setting-lining", "new", ""));
        chamber(restarted, 2_500, 2_560, t -> 20);
        assertThat(restarted.monitor.snapshot().conditions().firstFireStep()).isEqualTo(2);
        restarted.monitor.accept(new Setting(Shed.ID, at(2_560), "setting-lining", "fired", ""));
        chamber(restarted, 2_560, 2_900, t -> 20 + 3 * (t - 2_560));
        assertThat(restarted.transitions(AlarmId.FIRST_FIRE_RATE)).isEmpty();
        restarted.monitor.accept(new Setting(Shed.ID, at(2_900), "setting-lining", "new", ""));
        assertThat(restarted.monitor.snapshot().conditions().firstFireStep()).isEqualTo(1);
    }

    @Test
    void hoursOfTheWireAreCountedOverBurnsAndBeginAnewWithAnotherThermocouple() {
        Shed shed = new Shed(12, wire(980));
        Burning burning = new Burning(shed);
        burning.chamberC = 1_000;
        burning.run(3_700, t -> 6e4, Double.NaN);
        AlarmTransition raised = only(shed, AlarmId.WIRE_OVER_TEMPERATURE);
        assertThat(raised.why()).contains("above the 980 °C suggested", "h above, over all burns");
        assertThat(shed.monitor.snapshot().conditions().wireHours()).isCloseTo(0.98, within(0.02));
        burning.chamberC = 975;
        burning.run(3_800, t -> 6e4, Double.NaN);
        assertThat(shed.states(AlarmId.WIRE_OVER_TEMPERATURE)).containsExactly(AlarmState.UNACKNOWLEDGED);
        burning.chamberC = 960;
        burning.run(3_900, t -> 6e4, Double.NaN);
        assertThat(shed.transitions(AlarmId.WIRE_OVER_TEMPERATURE).get(1).why()).contains("°C; 1.0 h above 980 °C");
        burning.run(3_960, t -> 0, Double.NaN);
        Setting last = shed.settings.get(shed.settings.size() - 1);
        assertThat(last.name()).isEqualTo("setting-wire-hours");
        double counted = shed.monitor.snapshot().conditions().wireHours();

        Shed restarted = new Shed(12, wire(980));
        restarted.monitor.accept(last);
        restarted.monitor.accept(new Setting(Shed.ID, at(-100), "setting-thermocouple", "new", ""));
        assertThat(restarted.monitor.snapshot().conditions().wireHours()).isEqualTo(counted);
        restarted.monitor.accept(new Setting(Shed.ID, at(9_000), "setting-thermocouple", "3 mm sheath", ""));
        assertThat(restarted.monitor.snapshot().conditions().wireHours()).isZero();
    }

    @Test
    void aPredictedShellIsToldAsOneAndGivesWayToAMeasuredOne() {
        MonitorSettings low = new MonitorSettings(1150, 1240, 1260, 60, 4e5, 1e3, 3, 15, 12, Double.NaN);
        Shed shed = new Shed(12, low);
        chamber(shed, 0, 1, t -> 20);
        chamber(shed, 1, 2 * 3_600, t -> 1_150);
        AlarmTransition raised = only(shed, AlarmId.SHELL_HIGH);
        assertThat(raised.why()).contains("The shell is predicted at", "likely", "no sensor", "Its limit is 60 °C");
        ForgeConditions conditions = shed.monitor.snapshot().conditions();
        assertThat(conditions.predictedShellC() - conditions.predictedShellStandardUncertaintyK())
                .isGreaterThan(60);
        shed.accept(Shed.reading(ChannelNames.SHELL, 2 * 3_600, 41, Unit.CELSIUS));
        chamber(shed, 2 * 3_600, 2 * 3_600 + 40, t -> 1_150);
        assertThat(shed.transitions(AlarmId.SHELL_HIGH).get(1).why()).isEqualTo("The shell is back at 41 °C.");
    }

    @Test
    void fedWithWhatItToldItSaysTheSameAgain() {
        Shed first = new Shed(12, new ConditionSettings(null, Double.NaN, firing().firstFiring(), 100));
        Shed again = new Shed(12, new ConditionSettings(null, Double.NaN, firing().firstFiring(), 100));
        Random random = new Random(5);
        double celsius = 20;
        int given = 0;
        for (int i = 0; i < 4 * 9_000; i++) {
            double seconds = i * 0.25;
            celsius += random.nextDouble() < 0.5 ? 0.012 : -0.004;
            double read = celsius + random.nextGaussian();
            double pascal = i % 12_000 < 9_000 ? 3e4 : 0;
            first.accept(Shed.chamber(seconds, read), Shed.gas(seconds, pascal));
            for (;
                    given < first.settings.size()
                            && first.settings.get(given).time().secondsSince(at(seconds)) <= 0;
                    given++) {
                again.monitor.accept(first.settings.get(given));
            }
            again.accept(Shed.chamber(seconds, read), Shed.gas(seconds, pascal));
        }
        assertThat(given).isGreaterThan(1);
        assertThat(again.told).isEqualTo(first.told);
    }

    private static AlarmTransition only(Shed shed, AlarmId alarm) {
        assertThat(shed.states(alarm)).containsExactly(AlarmState.UNACKNOWLEDGED);
        return shed.transitions(alarm).get(0);
    }

    /** A chamber without a pressure sensor, read twice a second. */
    private static void chamber(Shed shed, double fromS, double toS, DoubleUnaryOperator celsius) {
        for (double t = fromS; t < toS; t += 0.5) {
            shed.accept(Shed.chamber(t, celsius.applyAsDouble(t)));
        }
    }

    /** A forge that burns: it heats well after gas on and then stays where it is told to. */
    private static final class Burning {
        final Shed shed;
        final Random random = new Random(3);
        double chamberC = 900;
        double noise = 0.002;
        private double timeS;
        private double celsius = 20;

        Burning(Shed shed) {
            this.shed = shed;
            shed.steady(-10, 0, 20, 0);
        }

        void run(double toS, DoubleUnaryOperator pressure, double cylinderKg) {
            for (; timeS < toS; timeS += 0.25) {
                celsius += (chamberC - celsius) * 0.25 / 40;
                double pascal = pressure.applyAsDouble(timeS) * (1 + noise * random.nextGaussian());
                shed.accept(Shed.chamber(timeS, celsius + 0.3 * random.nextGaussian()), Shed.gas(timeS, pascal));
                if (!Double.isNaN(cylinderKg) && Math.abs(timeS - Math.rint(timeS)) < 0.1) {
                    shed.accept(Shed.reading(ChannelNames.CYLINDER, timeS, cylinderKg, Unit.KILOGRAM));
                }
            }
        }
    }
}
