package org.bankfire.analysis.combustion;

/**
 * Gases that burn or come of burning, with the coefficients of NASA TM-4513 (McBride, Gordon, Reno: <i>Coefficients for
 * Calculating Thermodynamic and Transport Properties of Individual Species</i>, 1993) as published there: a1 to a7 for 200
 * to 1000 K, then for 1000 to 6000 K. Ideal gases at 1 bar; outside 200 to 6000 K every figure is NaN.
 */
public enum Species {
    /** Carbon dioxide; L 7/88. */
    CARBON_DIOXIDE(
            "CO2",
            1,
            0,
            2,
            0,
            new double[] {
                2.35677352, 0.00898459677, -7.12356269e-6, 2.45919022e-9, -1.43699548e-13, -48371.9697, 9.90105222
            },
            new double[] {
                4.63659493, 0.00274131991, -9.95828531e-7, 1.60373011e-10, -9.16103468e-15, -49024.9341, -1.93534855
            }),
    /** Carbon monoxide; TPIS79. */
    CARBON_MONOXIDE(
            "CO",
            1,
            0,
            1,
            0,
            new double[] {
                3.57953347, -0.00061035368, 1.01681433e-6, 9.07005884e-10, -9.04424499e-13, -14344.086, 3.50840928
            },
            new double[] {
                3.04848583, 0.00135172818, -4.85794075e-7, 7.88536486e-11, -4.69807489e-15, -14266.1171, 6.0170979
            }),
    /** Water; L 8/89. */
    WATER(
            "H2O",
            0,
            2,
            1,
            0,
            new double[] {
                4.19864056, -0.0020364341, 6.52040211e-6, -5.48797062e-9, 1.77197817e-12, -30293.7267, -0.849032208
            },
            new double[] {
                2.67703787, 0.00297318329, -7.7376969e-7, 9.44336689e-11, -4.26900959e-15, -29885.8938, 6.88255571
            }),
    /** Hydrogen; TPIS78. */
    HYDROGEN(
            "H2",
            0,
            2,
            0,
            0,
            new double[] {
                2.34433112, 0.00798052075, -1.9478151e-5, 2.01572094e-8, -7.37611761e-12, -917.935173, 0.683010238
            },
            new double[] {
                2.93286579, 0.000826607967, -1.46402335e-7, 1.54100359e-11, -6.88804432e-16, -813.065597, -1.02432887
            }),
    /** Hydroxyl; TPIS78. */
    HYDROXYL(
            "OH",
            0,
            1,
            1,
            0,
            new double[] {
                3.99201543, -0.00240131752, 4.61793841e-6, -3.88113333e-9, 1.3641147e-12, 3615.08056, -0.103925458
            },
            new double[] {
                2.83864607, 0.00110725586, -2.93914978e-7, 4.20524247e-11, -2.42169092e-15, 3943.95852, 5.84452662
            }),
    /** Oxygen; TPIS89. */
    OXYGEN(
            "O2",
            0,
            0,
            2,
            0,
            new double[] {
                3.78245636, -0.00299673415, 9.847302e-6, -9.68129508e-9, 3.24372836e-12, -1063.94356, 3.65767573
            },
            new double[] {
                3.66096083, 0.000656365523, -1.41149485e-7, 2.05797658e-11, -1.29913248e-15, -1215.97725, 3.41536184
            }),
    /** Oxygen atom; L 1/90. */
    OXYGEN_ATOM(
            "O",
            0,
            0,
            1,
            0,
            new double[] {
                3.1682671, -0.00327931884, 6.64306396e-6, -6.12806624e-9, 2.11265971e-12, 29122.2592, 2.05193346
            },
            new double[] {
                2.54363697, -2.73162486e-5, -4.1902952e-9, 4.95481845e-12, -4.79553694e-16, 29226.012, 4.92229457
            }),
    /** Hydrogen atom; L 5/93. */
    HYDROGEN_ATOM("H", 0, 1, 0, 0, new double[] {2.5, 0, 0, 0, 0, 25473.6599, -0.446682853}, new double[] {
        2.50000286, -5.65334214e-9, 3.63251723e-12, -9.1994972e-16, 7.95260746e-20, 25473.6589, -0.446698494
    }),
    /** Nitric oxide; TPIS89. */
    NITRIC_OXIDE(
            "NO",
            0,
            0,
            1,
            1,
            new double[] {
                4.21859896, -0.00463988124, 1.10443049e-5, -9.34055507e-9, 2.80554874e-12, 9845.09964, 2.28061001
            },
            new double[] {
                3.26071234, 0.00119101135, -4.29122646e-7, 6.94481463e-11, -4.03295681e-15, 9921.43132, 6.36900518
            }),
    /** Nitrogen; TPIS78. */
    NITROGEN(
            "N2",
            0,
            0,
            0,
            2,
            new double[] {
                3.53100528, -0.000123660987, -5.02999437e-7, 2.43530612e-9, -1.40881235e-12, -1046.97628, 2.96747468
            },
            new double[] {
                2.95257626, 0.00139690057, -4.92631691e-7, 7.86010367e-11, -4.60755321e-15, -923.948645, 5.87189252
            }),
    /** Methane; L 8/88. */
    METHANE(
            "CH4",
            1,
            4,
            0,
            0,
            new double[] {
                5.14987613, -0.0136709788, 4.91800599e-5, -4.84743026e-8, 1.66693956e-11, -10246.6476, -4.64130376
            },
            new double[] {
                1.63552643, 0.0100842795, -3.36916254e-6, 5.34958667e-10, -3.15518833e-14, -10005.6455, 9.99313326
            }),
    /** Ethane; L 8/88. */
    ETHANE(
            "C2H6",
            2,
            6,
            0,
            0,
            new double[] {
                4.29142492, -0.0055015427, 5.99438288e-5, -7.08466285e-8, 2.68685771e-11, -11522.2055, 2.66682316
            },
            new double[] {
                4.04666674, 0.0153538766, -5.47039321e-6, 8.77826228e-10, -5.23167305e-14, -12447.3512, -0.968683607
            }),
    /** Propane; L 6/90. */
    PROPANE(
            "C3H8",
            3,
            8,
            0,
            0,
            new double[] {
                4.2110262, 0.00171599803, 7.06183472e-5, -9.19594116e-8, 3.64421372e-11, -14381.2106, 5.60930491
            },
            new double[] {
                6.66789363, 0.0206120214, -7.36553027e-6, 1.18440761e-9, -7.0695321e-14, -16274.8521, -13.1859503
            }),
    /**
     * Propylene, which NASA TM-4513 lacks: from the database of R. J. Kee, F. M. Rupley and J. A. Miller, SAND87-8215B
     * (1987), by way of a public mechanism that uses it; 300 to 5000 K.
     */
    PROPYLENE(
            "C3H6",
            3,
            6,
            0,
            0,
            new double[] {1.493307, 0.02092518, 4.486794e-6, -1.668912e-8, 7.158146e-12, 1074.826, 16.14534},
            new double[] {6.732257, 0.01490834, -4.949899e-6, 7.212022e-10, -3.766204e-14, -923.5703, -13.31335}),
    /** n-Butane; L 6/90. */
    BUTANE(
            "n-C4H10",
            4,
            10,
            0,
            0,
            new double[] {
                6.14746806, 0.000155947389, 9.67913517e-5, -1.2548391e-7, 4.97816555e-11, -17599.4402, -1.09409879
            },
            new double[] {
                9.44535834, 0.0257858073, -9.23619122e-6, 1.48632755e-9, -8.87897158e-14, -20138.2165, -26.3470076
            }),
    /** Isobutane; L 6/90. */
    ISOBUTANE(
            "i-C4H10",
            4,
            10,
            0,
            0,
            new double[] {
                4.45479276, 0.00826057985, 8.29886664e-5, -1.14647642e-7, 4.64570101e-11, -18459.3931, 4.92743175
            },
            new double[] {
                9.76991245, 0.025499721, -9.14142932e-6, 1.47328271e-9, -8.80800188e-14, -21405.2647, -30.0329101
            });

    private static final double CARBON_KG_PER_MOL = 0.012011;
    private static final double HYDROGEN_KG_PER_MOL = 0.00100794;
    private static final double OXYGEN_KG_PER_MOL = 0.0159994;
    private static final double NITROGEN_KG_PER_MOL = 0.0140067;

    private final String formula;
    private final int carbon;
    private final int hydrogen;
    private final int oxygen;
    private final int nitrogen;
    // Immutable in fact: nothing writes the arrays that it copies when it is made.
    @SuppressWarnings("ImmutableEnumChecker")
    private final NasaPolynomial polynomial;

    Species(String formula, int carbon, int hydrogen, int oxygen, int nitrogen, double[] low, double[] high) {
        this.formula = formula;
        this.carbon = carbon;
        this.hydrogen = hydrogen;
        this.oxygen = oxygen;
        this.nitrogen = nitrogen;
        polynomial = new NasaPolynomial(low, high);
    }

    /** Formula, such as {@code CO2}. */
    public String formula() {
        return formula;
    }

    /** Carbon atoms in a molecule. */
    public int carbon() {
        return carbon;
    }

    /** Hydrogen atoms in a molecule. */
    public int hydrogen() {
        return hydrogen;
    }

    /** Oxygen atoms in a molecule. */
    public int oxygen() {
        return oxygen;
    }

    /** Nitrogen atoms in a molecule. */
    public int nitrogen() {
        return nitrogen;
    }

    /** Molar mass, kg/mol (IUPAC conventional atomic weights, rounded as in NASA TM-4513). */
    public double molarMassKgPerMol() {
        return carbon * CARBON_KG_PER_MOL
                + hydrogen * HYDROGEN_KG_PER_MOL
                + oxygen * OXYGEN_KG_PER_MOL
                + nitrogen * NITROGEN_KG_PER_MOL;
    }

    /** Enthalpy above the elements at 298.15 K, so with the heat of formation, J/mol. */
    public double enthalpyJPerMol(double temperatureK) {
        return polynomial.enthalpyJPerMol(temperatureK);
    }

    /** Heat capacity at constant pressure, J/(mol K). */
    public double heatCapacityJPerMolK(double temperatureK) {
        return polynomial.heatCapacityJPerMolK(temperatureK);
    }

    /** Entropy at 1 bar, J/(mol K). */
    public double entropyJPerMolK(double temperatureK) {
        return polynomial.entropyJPerMolK(temperatureK);
    }

    /** Gibbs energy at 1 bar over RT, 1. */
    double gibbsOverRt(double temperatureK) {
        return polynomial.gibbsOverRt(temperatureK);
    }

    NasaPolynomial polynomial() {
        return polynomial;
    }
}
