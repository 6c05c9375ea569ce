package org.bankfire.dashboard.source;

import java.io.IOException;
import java.io.OutputStream;
import java.time.ZoneId;
import java.util.Optional;

/** Reports of burns and of trials, and burns to take away. Calls may take some seconds and may throw {@link SourceException}. */
public interface ReportBook {
    /**
     * The report of a burn, as far as it has come.
     *
     * @return the whole document; empty when there is no such burn
     */
    Optional<byte[]> report(String burnId, Format format, Reader reader);

    /**
     * The report of a forge's trials.
     *
     * @return the whole document, also when there is no burn to make a trial of
     * @throws IllegalArgumentException naming a burn that the forge does not have
     */
    byte[] trials(String forge, TrialBook.Asked asked, Format format, Reader reader);

    /**
     * Everything that is stored of a burn.
     *
     * @return what writes it; empty when there is no such burn
     */
    Optional<Export> export(String burnId, Recording recording);

    /** Writes a burn bit by bit, so that a long one takes little memory. */
    interface Export {
        /**
         * Writes all of it; {@code out} stays open.
         *
         * @throws IOException when {@code out} takes no more
         * @throws SourceException when the burn cannot be read
         */
        void writeTo(OutputStream out) throws IOException;
    }

    /** What a report is written as. */
    enum Format {
        HTML("text/html; charset=utf-8"),
        PDF("application/pdf");

        private final String mediaType;

        Format(String mediaType) {
            this.mediaType = mediaType;
        }

        public String mediaType() {
            return mediaType;
        }
    }

    /** Formats of a recorded burn. */
    enum Recording {
        CSV("text/csv; charset=utf-8", "csv"),
        /** A SenML pack a line. */
        SENML("application/x-ndjson", "ndjson");

        private final String mediaType;
        private final String ending;

        Recording(String mediaType, String ending) {
            this.mediaType = mediaType;
            this.ending = ending;
        }

        public String mediaType() {
            return mediaType;
        }

        /** How the name of such a file ends, without the dot. */
        public String ending() {
            return ending;
        }
    }

    /**
     * Who reads a report.
     *
     * @param zone in which times are told
     */
    record Reader(Temperature temperature, Pressure pressure, ZoneId zone, Paper paper) {}

    /** Units of temperature that a reader may take. */
    enum Temperature {
        C("°C", "K", 1, 0),
        F("°F", "°F", 1.8, 32);

        private final String label;
        private final String stepLabel;
        private final double factor;
        private final double zero;

        Temperature(String label, String stepLabel, double factor, double zero) {
            this.label = label;
            this.stepLabel = stepLabel;
            this.factor = factor;
            this.zero = zero;
        }

        public String label() {
            return label;
        }

        /** Of a difference. */
        public String stepLabel() {
            return stepLabel;
        }

        /** What a temperature in °C is in this unit. */
        public double of(double celsius) {
            return celsius * factor + zero;
        }

        /** What a difference in K is in this unit. */
        public double step(double kelvin) {
            return kelvin * factor;
        }
    }

    /** Units of pressure that a reader may take; psi and inch of water as in NIST SP 811, appendix B. */
    enum Pressure {
        KPA("kPa", 1e3, 1),
        BAR("bar", 1e5, 2),
        PSI("psi", 6_894.757, 1),
        INH2O("inH₂O", 249.08891, 0);

        private final String label;
        private final double pascals;
        private final int digits;

        Pressure(String label, double pascals, int digits) {
            this.label = label;
            this.pascals = pascals;
            this.digits = digits;
        }

        public String label() {
            return label;
        }

        /** What a pressure in Pa is in this unit. */
        public double of(double pascal) {
            return pascal / pascals;
        }

        /** Sensible digits after the point. */
        public int digits() {
            return digits;
        }
    }

    /** Sizes of paper, mm: ISO 216 and ANSI/ASME Y14.1. */
    enum Paper {
        A4(210, 297),
        LETTER(215.9, 279.4);

        private final double widthMm;
        private final double heightMm;

        Paper(double widthMm, double heightMm) {
            this.widthMm = widthMm;
            this.heightMm = heightMm;
        }

        public double widthMm() {
            return widthMm;
        }

        public double heightMm() {
            return heightMm;
        }
    }
}
