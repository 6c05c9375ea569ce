package org.bankfire.daemon.acquire.virtual;

/**
 * The openings of a virtual forge as holes through the thickness of its lining: how they radiate and how air falls in.
 */
final class Holes {
    private static final int RINGS = 40;
    private static final int SWEEPS = 400;
    private static final double GRAVITY = 9.81;
    /** Air at 273 K and 101,325 Pa, kg/m³. */
    private static final double AIR_DENSITY = 1.2929;

    private final ForgeTraits traits;
    private double frontBlackM2;
    private double bothBlackM2;
    private double frontShape;
    private double bothShape;
    private final double discharge;
    private final double roomK;
    private final double airPressurePa;
    /** Height of the border between inflow and outflow as a part of the opening's height, from one step to the next. */
    private double border = 0.3;

    Holes(ForgeTraits traits) {
        this.traits = traits;
        discharge = traits.exchange().draughtDischarge();
        roomK = traits.ambientC() + 273.15;
        airPressurePa = traits.airPressurePa();
        narrowFront();
    }

    /** The front as it was built. */
    void narrowFront() {
        cut(traits.front());
    }

    /** The front with so many times its area, as far as the chamber is wide and high. */
    void widenFront(double timesArea) {
        ForgeTraits.Hole front = traits.front();
        double widthM = Math.min(traits.chamber().widthM(), front.widthM() * timesArea);
        double heightM = Math.min(traits.chamber().heightM(), front.areaM2() * timesArea / widthM);
        cut(new ForgeTraits.Hole(widthM, Math.max(front.heightM(), heightM)));
    }

    /** Becomes as wide as others of the same traits. */
    void become(Holes others) {
        frontBlackM2 = others.frontBlackM2;
        bothBlackM2 = others.bothBlackM2;
        frontShape = others.frontShape;
        bothShape = others.bothShape;
        border = others.border;
    }

    private void cut(ForgeTraits.Hole front) {
        double thick = traits.thicknessM();
        double through = front.areaM2() * passing(front, thick);
        double rearThrough = traits.rear().areaM2() * passing(traits.rear(), thick);
        double surface = traits.chamber().surfaceM2();
        double emissivity = traits.exchange().wallEmissivity();
        double frontM2 = front.areaM2();
        double bothM2 = frontM2 + traits.rear().areaM2();
        frontBlackM2 = through * cavity(emissivity, frontM2 / surface);
        bothBlackM2 = (through + rearThrough) * cavity(emissivity, bothM2 / surface);
        frontShape = shape(front);
        bothShape = frontShape + shape(traits.rear());
    }

    private static double shape(ForgeTraits.Hole hole) {
        return hole.widthM() * Math.pow(hole.heightM(), 1.5);
    }

    /** A grey sphere with a hole: what it sends out after any number of reflections over what a black one would. */
    static double cavity(double emissivity, double openShare) {
        return emissivity / (1 - (1 - emissivity) * (1 - openShare));
    }

    static double passing(ForgeTraits.Hole hole, double thicknessM) {
        // Width of a round hole with the same perimeter over its area.
        double radius = hole.areaM2() / (hole.widthM() + hole.heightM());
        return passing(thicknessM / radius);
    }

    /**
     * Part of the diffuse radiation into one end of a round tube that leaves at the other when the tube's wall throws back
     * all that it takes: the wall is cut into rings, each of which sends on what it gets, by sweeps over all of them.
     *
     * @param lengthOverRadius above 0
     */
    static double passing(double lengthOverRadius) {
        double ring = lengthOverRadius / RINGS;
        double ringOverEnd = 2 * ring;
        // From disc to disc at every multiple of a ring's length, by the formula for equal coaxial discs.
        double[] discs = new double[RINGS + 1];
        for (int i = 0; i <= RINGS; i++) {
            double x = 2 + (i * ring) * (i * ring);
            discs[i] = (x - Math.sqrt(x * x - 4)) / 2;
        }
        double[] ringToRing = new double[RINGS];
        double[] ringToEnd = new double[RINGS];
        for (int i = 0; i < RINGS; i++) {
            ringToEnd[i] = (discs[i] - discs[i + 1]) / ringOverEnd;
            ringToRing[i] = i == 0 ? 1 - 2 * ringToEnd[0] : (discs[i - 1] - 2 * discs[i] + discs[i + 1]) / ringOverEnd;
        }
        double[] sent = new double[RINGS];
        for (int sweep = 0; sweep < SWEEPS; sweep++) {
            for (int i = 0; i < RINGS; i++) {
                double got = ringToEnd[i];
                for (int j = 0; j < RINGS; j++) {
                    got += j == i ? 0 : ringToRing[Math.abs(i - j)] * sent[j];
                }
                sent[i] = got / (1 - ringToRing[0]);
            }
        }
        double out = discs[RINGS];
        for (int i = 0; i < RINGS; i++) {
            out += ringOverEnd * ringToEnd[RINGS - 1 - i] * sent[i];
        }
        return out;
    }

    /** Area of a black hole that would radiate as they do, m². */
    double blackM2(boolean plugIn) {
        return plugIn ? frontBlackM2 : bothBlackM2;
    }

    /**
     * Air that falls in under the gas that leaves, kg/s: where the pressure inside and outside is the same, inflow below
     * turns into outflow above, and all that comes in, from the burner too, leaves. Newton's method from the last answer.
     *
     * @param insideC temperature of the chamber gas
     * @param drivenKgS what the burner blows in
     */
    double draughtKgS(double insideC, double drivenKgS, boolean plugIn) {
        double lightness = roomK / (insideC + 273.15);
        if (lightness >= 1 || discharge == 0) {
            return 0;
        }
        double air = AIR_DENSITY * 273.15 / roomK * airPressurePa / 101_325;
        double full = 2.0
                / 3
                * discharge
                * (plugIn ? frontShape : bothShape)
                * air
                * Math.sqrt(2 * GRAVITY * (1 - lightness));
        double driven = drivenKgS / full;
        double out = Math.sqrt(lightness);
        if (driven >= out) {
            // The burner fills the openings.
            return 0;
        }
        double y = Math.min(0.95, Math.max(0.01, border));
        for (int i = 0; i < 20; i++) {
            double up = Math.sqrt(1 - y);
            double down = Math.sqrt(y);
            double excess = out * up * (1 - y) - down * y - driven;
            double change = excess / (1.5 * (out * up + down));
            y = Math.min(0.99, Math.max(0, y + change));
            if (Math.abs(change) < 1e-7) {
                break;
            }
        }
        border = y;
        return full * y * Math.sqrt(y);
    }
}
