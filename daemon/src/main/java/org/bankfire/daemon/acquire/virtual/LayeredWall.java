package org.bankfire.daemon.acquire.virtual;

import java.util.ArrayList;
import java.util.List;

/**
 * The lining of a virtual forge inside its steel frame, as slabs that pass heat to their neighbours by explicit steps. The
 * slabs are thin at the hot face, grow outwards, and each lies in one layer. Temperatures in °C.
 *
 * <p>The way of the heat widens as bodies parallel to a box do, A + φ (π/2 Σedges x + 4π x²), with φ such that the whole
 * lining conducts as a box of one temperature inside and one outside does (shape factor of Langmuir, Adams and Meikle, 1913).
 */
final class LayeredWall {
    private static final double GROWTH = 1.25;
    /** The first slab of each layer is so thick that a step of this is well inside what explicit steps allow. */
    private static final double EASY_STEP_S = 0.1;

    private static final double HOTTEST_C = 1_400;
    private static final double STEFAN_BOLTZMANN = 5.670374e-8;
    /** The most that flame, gas and glow take from the hot face per kelvin, W/(m² K): bounds the step. */
    private static final double HOT_FACE_W_PER_M2K = 450;

    private final ForgeTraits traits;
    private final double faceM2;
    private final double edgesM;
    private final double thicknessM;
    private final double widening;
    private final int slabs;
    private final double[] middleM;
    private final double[] celsius;
    private final double[] joulesPerK;
    /** Conductance from the slab before over its conductivity, m; 0 where another layer begins. */
    private final double[] link;

    private final double[] linkBefore;
    private final double[] linkAfter;
    private final double[] atZero;
    private final double[] perKelvin;
    private final double[] flowW;
    private final double frameM2;
    private final double frameJPerK;
    private final double convection;
    private final double stableS;
    private double frameC;
    private double frameLossW;

    LayeredWall(ForgeTraits traits) {
        this.traits = traits;
        faceM2 = traits.wallM2();
        edgesM = traits.chamber().edgesM();
        thicknessM = traits.thicknessM();
        widening = widening();
        List<double[]> cut = cut(traits);
        slabs = cut.size();
        middleM = new double[slabs];
        celsius = new double[slabs];
        joulesPerK = new double[slabs];
        link = new double[slabs];
        linkBefore = new double[slabs];
        linkAfter = new double[slabs + 1];
        atZero = new double[slabs];
        perKelvin = new double[slabs];
        flowW = new double[slabs + 1];
        double depth = 0;
        double centre = 0;
        for (int i = 0; i < slabs; i++) {
            double thick = cut.get(i)[0];
            ForgeTraits.Layer layer = traits.lining().get((int) cut.get(i)[1]);
            // The first slab's temperature is that of the hot face itself.
            double place = i == 0 ? 0 : depth + thick / 2;
            middleM[i] = place;
            atZero[i] = layer.conductivityAtZeroWPerMK();
            perKelvin[i] = layer.conductivitySlopeWPerMK2();
            joulesPerK[i] = layer.densityKgPerM3() * layer.heatCapacityJPerKgK() * thick * areaM2(depth + thick / 2);
            if (i > 0) {
                linkBefore[i] = 1 / shape(centre, depth);
                linkAfter[i] = 1 / shape(depth, place);
                link[i] = cut.get(i)[1] == cut.get(i - 1)[1] ? 1 / shape(centre, place) : 0;
            }
            centre = place;
            depth += thick;
        }
        frameM2 = traits.frameM2();
        frameJPerK = frameM2 * traits.frame().joulesPerM2K();
        linkAfter[slabs] = 1 / shape(centre, thicknessM);
        convection = 1.42 / Math.pow(traits.chamber().heightM() + 2 * thicknessM, 0.25);
        stableS = stableStep();
    }

    /** Thicknesses and layer numbers of the slabs. */
    private static List<double[]> cut(ForgeTraits traits) {
        List<double[]> cut = new ArrayList<>();
        double next = 0;
        for (int n = 0; n < traits.lining().size(); n++) {
            ForgeTraits.Layer layer = traits.lining().get(n);
            double diffusivity = layer.conductivity(HOTTEST_C) / (layer.densityKgPerM3() * layer.heatCapacityJPerKgK());
            double first = Math.max(next, Math.sqrt(8 * diffusivity * EASY_STEP_S));
            int count = (int)
                    Math.max(2, Math.round(Math.log1p(layer.thicknessM() / first * (GROWTH - 1)) / Math.log(GROWTH)));
            double unit = layer.thicknessM() * (GROWTH - 1) / (Math.pow(GROWTH, count) - 1);
            for (int i = 0; i < count; i++) {
                cut.add(new double[] {unit * Math.pow(GROWTH, i), n});
            }
            next = unit * Math.pow(GROWTH, count - 1);
        }
        return cut;
    }

    private double areaM2(double depthM) {
        return areaM2(depthM, widening);
    }

    private double areaM2(double depthM, double factor) {
        return faceM2 + factor * depthM * (Math.PI / 2 * edgesM + 4 * Math.PI * depthM);
    }

    /** The factor φ of the class comment, by bisection. */
    private double widening() {
        double wanted = faceM2 / thicknessM + 0.54 * edgesM + 1.2 * thicknessM;
        double low = 0;
        double high = 4;
        for (int i = 0; i < 60; i++) {
            double trial = (low + high) / 2;
            if (1 / shape(0, thicknessM, trial) < wanted) {
                low = trial;
            } else {
                high = trial;
            }
        }
        return (low + high) / 2;
    }

    /** Resistance between two depths times the conductivity, 1/m. */
    double shape(double fromM, double toM) {
        return shape(fromM, toM, widening);
    }

    /** Simpson's rule; the area is smooth. */
    private double shape(double fromM, double toM, double factor) {
        int parts = 20;
        double step = (toM - fromM) / parts;
        double sum = 1 / areaM2(fromM, factor) + 1 / areaM2(toM, factor);
        for (int i = 1; i < parts; i++) {
            sum += (i % 2 == 0 ? 2 : 4) / areaM2(fromM + i * step, factor);
        }
        return sum * step / 3;
    }

    /** The longest step with which no slab can overshoot its neighbours. */
    private double stableStep() {
        double least = Double.POSITIVE_INFINITY;
        for (int i = 0; i < slabs; i++) {
            double inner = i == 0 ? HOT_FACE_W_PER_M2K * faceM2 : conductance(i, HOTTEST_C, HOTTEST_C);
            double outer = i == slabs - 1 ? contactConductance(HOTTEST_C) : conductance(i + 1, HOTTEST_C, HOTTEST_C);
            least = Math.min(least, joulesPerK[i] / (inner + outer));
        }
        double outside = frameM2 * 40 + contactConductance(HOTTEST_C);
        return 0.9 * Math.min(least, frameJPerK / outside);
    }

    /** From slab {@code i} − 1 to slab {@code i}, W/K. */
    private double conductance(int i, double nearC, double farC) {
        if (link[i] > 0) {
            // Exact for a conductivity that is linear in temperature.
            return link[i] * (atZero[i] + perKelvin[i] * (nearC + farC) / 2);
        }
        double near = linkBefore[i] * (atZero[i - 1] + perKelvin[i - 1] * nearC);
        double far = linkAfter[i] * (atZero[i] + perKelvin[i] * farC);
        return near * far / (near + far);
    }

    private double contactConductance(double lastC) {
        double half = linkAfter[slabs] * (atZero[slabs - 1] + perKelvin[slabs - 1] * lastC);
        double contact = traits.frame().contactWPerM2K() * frameM2;
        return half * contact / (half + contact);
    }

    /** As after about an hour at {@code faceC}, the frame's warmth in proportion. */
    void soakAt(double faceC, double roomC) {
        frameC = roomC + 0.06 * (faceC - roomC);
        for (int i = 0; i < slabs; i++) {
            celsius[i] = frameC + (faceC - frameC) * Math.pow(1 - middleM[i] / thicknessM, 1.4);
        }
    }

    /** Becomes as warm as another of the same traits. */
    void become(LayeredWall other) {
        System.arraycopy(other.celsius, 0, celsius, 0, slabs);
        frameC = other.frameC;
        frameLossW = other.frameLossW;
    }

    /** Lets {@code hotFaceW} into the hot face for one step, {@link #stableS()} at most. */
    void advance(double hotFaceW, double roomC, double stepS) {
        flowW[0] = hotFaceW;
        for (int i = 1; i < slabs; i++) {
            double near = celsius[i - 1];
            double far = celsius[i];
            flowW[i] = conductance(i, near, far) * (near - far);
        }
        int last = slabs - 1;
        flowW[slabs] = contactConductance(celsius[last]) * (celsius[last] - frameC);
        for (int i = 0; i < slabs; i++) {
            celsius[i] += (flowW[i] - flowW[i + 1]) * stepS / joulesPerK[i];
        }
        frameLossW = frameLoss(frameC, roomC);
        frameC += (flowW[slabs] - frameLossW) * stepS / frameJPerK;
    }

    /**
     * What the frame gives to the room, W: laminar natural convection of still air along upright plates, 1.42 (ΔT/L)^¼ with
     * L the height in m (McAdams, Heat Transmission, simplified for air at room conditions), and radiation.
     */
    double frameLoss(double celsius, double roomC) {
        double over = celsius - roomC;
        double hot = celsius + 273.15;
        double room = roomC + 273.15;
        double radiated =
                traits.frame().emissivity() * STEFAN_BOLTZMANN * (hot * hot + room * room) * (hot + room) * over;
        return frameM2 * (convection * Math.sqrt(Math.sqrt(Math.abs(over))) * over + radiated);
    }

    /**
     * Heat that goes for ever through a lining whose hot face is held at a temperature, W. By the integral of the
     * conductivity over temperature in each layer, not by the slabs.
     */
    double soakedLossW(double faceC, double roomC) {
        double low = roomC;
        double high = Math.max(faceC, roomC);
        for (int i = 0; i < 60; i++) {
            double trial = (low + high) / 2;
            if (faceBehind(trial, roomC) < faceC) {
                low = trial;
            } else {
                high = trial;
            }
        }
        return frameLoss((low + high) / 2, roomC);
    }

    /** Hot face that a frame at a temperature needs behind it, °C. */
    private double faceBehind(double sheetC, double roomC) {
        double heatW = frameLoss(sheetC, roomC);
        double inside = sheetC + heatW / (traits.frame().contactWPerM2K() * frameM2);
        double depth = thicknessM;
        for (int n = traits.lining().size() - 1; n >= 0; n--) {
            ForgeTraits.Layer layer = traits.lining().get(n);
            double drive = heatW * shape(depth - layer.thicknessM(), depth);
            double k = layer.conductivity(inside);
            double slope = layer.conductivitySlopeWPerMK2();
            // k ΔT + slope ΔT²/2 = drive, solved for ΔT without cancellation.
            inside += 2 * drive / (k + Math.sqrt(k * k + 2 * slope * drive));
            depth -= layer.thicknessM();
        }
        return inside;
    }

    /** The longest step, s. */
    double stableS() {
        return stableS;
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

    /** Heat in lining and frame above 0 °C, J. */
    double heldJ() {
        double sum = frameJPerK * frameC;
        for (int i = 0; i < slabs; i++) {
            sum += joulesPerK[i] * celsius[i];
        }
        return sum;
    }
}
