package org.bankfire.daemon.acquire.virtual;

/**
 * The virtual forge's lining of light block inside a thin steel frame, as slabs that pass heat to their neighbours by
 * explicit steps. The slabs are thin at the hot face and grow outwards. Temperatures in °C.
 */
final class BlockWall {
    /** Inside of the chamber: 180 × 150 × 250 mm. */
    static final double HOT_FACE_M2 = 2 * (0.18 * 0.15 + 0.15 * 0.25 + 0.18 * 0.25);

    private static final double THICKNESS_M = 0.076;
    private static final int SLABS = 17;
    private static final double GROWTH = 1.25;
    /** Six faces of the outside; edges and corners pass less than flat wall, so heat finds about 0.7 of the growth. */
    private static final double COLD_FACE_M2 =
            HOT_FACE_M2 + 0.7 * (2 * (0.332 * 0.302 + 0.302 * 0.402 + 0.332 * 0.402) - HOT_FACE_M2);
    /** Light insulating block: 520 kg/m³ × 1040 J/(kg K). */
    private static final double J_PER_M3_K = 520 * 1_040;

    private static final double FRAME_M2 = 0.56;
    private static final double FRAME_J_PER_K = 5.5 * 490;
    /** Block against sheet, W/(m² K). */
    private static final double CONTACT_W_M2K = 40;

    private final double[] thicknessM = new double[SLABS];
    private final double[] areaM2 = new double[SLABS];
    private final double[] celsius = new double[SLABS];
    private final double[] joulesPerK = new double[SLABS];
    private final double[] flowW = new double[SLABS + 1];
    private double frameC;
    private double frameLossW;

    BlockWall() {
        double first = THICKNESS_M * (GROWTH - 1) / (Math.pow(GROWTH, SLABS) - 1);
        double depth = 0;
        for (int i = 0; i < SLABS; i++) {
            thicknessM[i] = first * Math.pow(GROWTH, i);
            double middle = depth + thicknessM[i] / 2;
            areaM2[i] = HOT_FACE_M2 + (COLD_FACE_M2 - HOT_FACE_M2) * middle / THICKNESS_M;
            joulesPerK[i] = J_PER_M3_K * thicknessM[i] * areaM2[i];
            depth += thicknessM[i];
        }
    }

    /** As after about an hour at {@code faceC}, the frame's warmth in proportion. */
    void soakAt(double faceC, double roomC) {
        double depth = 0;
        frameC = roomC + 0.06 * (faceC - roomC);
        for (int i = 0; i < SLABS; i++) {
            double left = 1 - (depth + thicknessM[i] / 2) / THICKNESS_M;
            celsius[i] = frameC + (faceC - frameC) * Math.pow(left, 1.4);
            depth += thicknessM[i];
        }
        celsius[0] = faceC;
    }

    /** Lets {@code hotFaceW} into the hot face for one step; stable up to 0.2 s. */
    void advance(double hotFaceW, double roomC, double stepS) {
        flowW[0] = hotFaceW;
        for (int i = 1; i < SLABS; i++) {
            double resistance = thicknessM[i - 1] / (2 * conductivity(celsius[i - 1]) * areaM2[i - 1])
                    + thicknessM[i] / (2 * conductivity(celsius[i]) * areaM2[i]);
            flowW[i] = (celsius[i - 1] - celsius[i]) / resistance;
        }
        int last = SLABS - 1;
        double contact =
                1 / (CONTACT_W_M2K * FRAME_M2) + thicknessM[last] / (2 * conductivity(celsius[last]) * areaM2[last]);
        flowW[SLABS] = (celsius[last] - frameC) / contact;
        for (int i = 0; i < SLABS; i++) {
            celsius[i] += (flowW[i] - flowW[i + 1]) * stepS / joulesPerK[i];
        }
        double over = frameC - roomC;
        // Still air and dark sheet: rises with the excess. Common practice, no source.
        frameLossW = FRAME_M2 * (9 + 0.045 * Math.abs(over)) * over;
        frameC += (flowW[SLABS] - frameLossW) * stepS / FRAME_J_PER_K;
    }

    /** Of light block, W/(m K). */
    private static double conductivity(double celsius) {
        return 0.135 + 0.085e-3 * celsius;
    }

    double faceC() {
        return celsius[0];
    }

    double frameC() {
        return frameC;
    }

    /** What the frame gave to the room in the last step, W. */
    double frameLossW() {
        return frameLossW;
    }

    /** Heat in block and frame above 0 °C, J. */
    double heldJ() {
        double sum = FRAME_J_PER_K * frameC;
        for (int i = 0; i < SLABS; i++) {
            sum += joulesPerK[i] * celsius[i];
        }
        return sum;
    }
}
