package org.bankfire.daemon.trials;

import org.bankfire.analysis.reading.ChannelNames;
import org.bankfire.analysis.reading.Quality;
import org.bankfire.analysis.reading.Reading;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.analysis.reading.Unit;
import org.bankfire.analysis.trial.TrialRecorder;
import org.bankfire.daemon.fitting.StoredBurn;

/** Feeds one burn's settings and good readings to a {@link TrialRecorder}. Not safe for use by several threads. */
final class TrialTap implements StoredBurn.Tap {
    private final TrialRecorder recorder = new TrialRecorder();

    TrialRecorder recorder() {
        return recorder;
    }

    @Override
    public void setting(double timeS, Setting setting) {
        recorder.setting(timeS, setting);
    }

    @Override
    public void reading(double timeS, Reading reading) {
        if (reading.quality() != Quality.GOOD || timeS < 0) {
            return;
        }
        Unit.Quantity quantity = reading.unit().quantity();
        switch (reading.channel().name()) {
            case ChannelNames.CHAMBER -> {
                if (quantity == Unit.Quantity.TEMPERATURE) {
                    recorder.chamber(timeS, reading.siValue());
                }
            }
            case ChannelNames.GAS -> {
                if (quantity == Unit.Quantity.PRESSURE) {
                    recorder.gas(timeS, reading.siValue());
                }
            }
            default -> {}
        }
    }
}
