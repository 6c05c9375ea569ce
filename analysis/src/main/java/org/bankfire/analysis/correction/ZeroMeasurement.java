package org.bankfire.analysis.correction;

/** Outputs of a transducer at rest, and the judgement whether their mean is fit to be its zero. */
final class ZeroMeasurement {
    /** At least this many are averaged, so that their scatter can be judged. */
    private static final int MIN_READINGS = 10;
    // A 10-bit converter's own noise is one or two steps of 0.1 %; flowing gas flutters by more than this.
    private static final double MAX_NOISE_OF_SPAN = 0.005;
    // Twice what inexpensive transducers are off at zero; most burners idle above it. Common practice, no source.
    private static final double MAX_SHIFT_OF_SPAN = 0.03;

    private int count;
    private double mean;
    private double squares;

    /** Takes one output; one that is no number is passed over. */
    void add(double output) {
        if (!Double.isFinite(output)) {
            return;
        }
        // Welford (1962): mean and sum of squares in one pass without loss of digits.
        count++;
        double fromMean = output - mean;
        mean += fromMean / count;
        squares += fromMean * (output - mean);
    }

    ZeroCapture judge(String channel, PressureCorrection pressure) {
        if (count < MIN_READINGS) {
            return new ZeroCapture.Refused(
                    channel,
                    ZeroCapture.Reason.TOO_FEW,
                    "only " + count + " good raw readings of " + channel + "; at least " + MIN_READINGS
                            + " are needed");
        }
        double spanPa = Math.abs(pressure.toPa(pressure.outputSpan()));
        double scatter = Math.sqrt(squares / (count - 1));
        double scatterPa = Math.abs(pressure.toPa(scatter));
        if (!(scatterPa <= MAX_NOISE_OF_SPAN * spanPa)) {
            return new ZeroCapture.Refused(
                    channel,
                    ZeroCapture.Reason.TOO_NOISY,
                    channel + " scatters by " + Math.round(scatterPa) + " Pa; allowed are "
                            + Math.round(MAX_NOISE_OF_SPAN * spanPa) + " Pa: is the gas off and the hose loose?");
        }
        double offPa = pressure.toPa(mean - pressure.nominalZeroOutput());
        if (!(Math.abs(offPa) <= MAX_SHIFT_OF_SPAN * spanPa)) {
            return new ZeroCapture.Refused(
                    channel,
                    ZeroCapture.Reason.TOO_FAR,
                    channel + " reads " + Math.round(offPa) + " Pa where its low end should be; allowed are "
                            + Math.round(MAX_SHIFT_OF_SPAN * spanPa) + " Pa to either side: is the hose off?");
        }
        double standardUncertainty = Math.hypot(scatter / Math.sqrt(count), pressure.zeroStep());
        return new ZeroCapture.Captured(
                channel,
                mean,
                pressure.outputUnit(),
                standardUncertainty,
                pressure.toPa(mean - pressure.zeroOutput()),
                Math.abs(pressure.toPa(standardUncertainty)),
                count);
    }
}
