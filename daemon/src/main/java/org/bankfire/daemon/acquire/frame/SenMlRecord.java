package org.bankfire.daemon.acquire.frame;

import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import java.io.IOException;
import java.util.Base64;

/**
 * The fields of one SenML record as they stand, each of its right type: labels of RFC 8428 tables 1 (JSON) and 4 (CBOR),
 * and the three that Bankfire adds to recorded burns. Unknown labels are passed over, those ending in {@code _} refused
 * (RFC 8428 section 4.4). A label that comes twice is refused, for nobody can say which was meant.
 */
final class SenMlRecord {
    static final int BASE_NAME = 1;
    static final int BASE_TIME = 1 << 1;
    static final int BASE_UNIT = 1 << 2;
    static final int BASE_VALUE = 1 << 3;
    static final int BASE_SUM = 1 << 4;
    static final int BASE_VERSION = 1 << 5;
    static final int NAME = 1 << 6;
    static final int UNIT = 1 << 7;
    static final int VALUE = 1 << 8;
    static final int STRING = 1 << 9;
    static final int BOOLEAN = 1 << 10;
    static final int DATA = 1 << 11;
    static final int SUM = 1 << 12;
    static final int TIME = 1 << 13;
    static final int UPDATE_TIME = 1 << 14;
    static final int QUALITY = 1 << 15;
    static final int UNCERTAINTY = 1 << 16;
    static final int RECEIVED = 1 << 17;

    static final int ANY_BASE = BASE_NAME | BASE_TIME | BASE_UNIT | BASE_VALUE | BASE_SUM | BASE_VERSION;
    static final int ANY_VALUE = VALUE | STRING | BOOLEAN | DATA;

    /** Labels that recorded burns carry beside those of the RFC. */
    static final String QUALITY_LABEL = "quality";

    static final String UNCERTAINTY_LABEL = "uncertainty";
    static final String RECEIVED_LABEL = "received";

    private static final double MICROS_PER_S = 1e6;
    private static final int MAX_UNIT_LENGTH = 32;
    private static final int LONGEST_PLAIN_NUMBER = 40;

    private final boolean cbor;
    private final boolean recorded;

    private int present;
    String baseName = "";
    String baseUnit = "";
    String name = "";
    String unit = "";
    String text = "";
    String data = "";
    String quality = "";
    long baseTimeMicros;
    long timeMicros;
    long receivedMicros;
    double baseValue;
    double baseSum;
    double value;
    double sum;
    double uncertainty;
    double version;
    boolean truth;

    /**
     * For records of one pack.
     *
     * @param cbor whether labels may be the integers of CBOR
     * @param recorded whether the labels of recorded burns are read; they are unknown labels elsewhere
     */
    SenMlRecord(boolean cbor, boolean recorded) {
        this.cbor = cbor;
        this.recorded = recorded;
    }

    boolean has(int fields) {
        return (present & fields) != 0;
    }

    int count(int fields) {
        return Integer.bitCount(present & fields);
    }

    /** Reads on from behind the record's opening brace to behind its closing one. */
    void read(JsonParser parser) throws IOException, BadFrameException {
        present = 0;
        for (JsonToken token = parser.nextToken(); token != JsonToken.END_OBJECT; token = parser.nextToken()) {
            if (token != JsonToken.FIELD_NAME) {
                throw new BadFrameException("pack ends inside a record");
            }
            String label = parser.currentName();
            JsonToken valueToken = parser.nextToken();
            if (valueToken == null) {
                throw new BadFrameException(
                        "field " + TextValues.quoted(inWords(label)) + " has no value; the pack ends there");
            }
            readField(inWords(label), parser);
        }
    }

    /** A label as the parser names it, in the words of JSON. */
    String inWords(String label) {
        return cbor ? textLabel(label) : label;
    }

    /** RFC 8428 table 4. The parser hands integer labels over as text. */
    private static String textLabel(String label) {
        return switch (label) {
            case "-1" -> "bver";
            case "-2" -> "bn";
            case "-3" -> "bt";
            case "-4" -> "bu";
            case "-5" -> "bv";
            case "-6" -> "bs";
            case "0" -> "n";
            case "1" -> "u";
            case "2" -> "v";
            case "3" -> "vs";
            case "4" -> "vb";
            case "5" -> "s";
            case "6" -> "t";
            case "7" -> "ut";
            case "8" -> "vd";
            default -> label;
        };
    }

    private void readField(String label, JsonParser parser) throws IOException, BadFrameException {
        switch (label) {
            case "n" -> name = string(NAME, label, parser);
            case "u" -> unit = unit(UNIT, label, parser);
            case "v" -> value = number(VALUE, label, parser);
            case "t" -> timeMicros = micros(TIME, label, parser);
            case "vs" -> text = string(STRING, label, parser);
            case "vb" -> truth = bool(label, parser);
            case "vd" -> data = data(label, parser);
            case "s" -> sum = number(SUM, label, parser);
            case "ut" -> number(UPDATE_TIME, label, parser);
            case "bn" -> baseName = string(BASE_NAME, label, parser);
            case "bt" -> baseTimeMicros = micros(BASE_TIME, label, parser);
            case "bu" -> baseUnit = unit(BASE_UNIT, label, parser);
            case "bv" -> baseValue = number(BASE_VALUE, label, parser);
            case "bs" -> baseSum = number(BASE_SUM, label, parser);
            case "bver" -> version = number(BASE_VERSION, label, parser);
            default -> readOther(label, parser);
        }
    }

    private void readOther(String label, JsonParser parser) throws IOException, BadFrameException {
        if (recorded) {
            switch (label) {
                case QUALITY_LABEL -> {
                    quality = string(QUALITY, label, parser);
                    return;
                }
                case UNCERTAINTY_LABEL -> {
                    uncertainty = number(UNCERTAINTY, label, parser);
                    return;
                }
                case RECEIVED_LABEL -> {
                    receivedMicros = micros(RECEIVED, label, parser);
                    return;
                }
                default -> {}
            }
        }
        if (label.endsWith("_")) {
            throw new BadFrameException("field " + TextValues.quoted(label)
                    + " must be understood and is not known; allowed are the labels of RFC 8428");
        }
        parser.skipChildren();
    }

    private void mark(int field, String label) throws BadFrameException {
        if ((present & field) != 0) {
            throw new BadFrameException("field \"" + label + "\" comes twice; allowed is once a record");
        }
        present |= field;
    }

    private String string(int field, String label, JsonParser parser) throws IOException, BadFrameException {
        mark(field, label);
        if (!parser.hasToken(JsonToken.VALUE_STRING)) {
            throw wrong(label, parser, "a string");
        }
        return parser.getText();
    }

    private String unit(int field, String label, JsonParser parser) throws IOException, BadFrameException {
        String symbol = string(field, label, parser);
        if (symbol.length() > MAX_UNIT_LENGTH || symbol.chars().anyMatch(Character::isISOControl)) {
            throw wrong(label, parser, "a unit of at most 32 printable characters");
        }
        return symbol;
    }

    private double number(int field, String label, JsonParser parser) throws IOException, BadFrameException {
        mark(field, label);
        JsonToken token = parser.currentToken();
        if (token == JsonToken.VALUE_NUMBER_FLOAT || token == JsonToken.VALUE_NUMBER_INT) {
            double number = parser.getDoubleValue();
            if (TextValues.isPlausible(number)) {
                return number;
            }
        }
        throw wrong(label, parser, "a number between -1e300 and 1e300");
    }

    /** Seconds as microseconds; digits of JSON are taken exactly, without the rounding of a double. */
    private long micros(int field, String label, JsonParser parser) throws IOException, BadFrameException {
        mark(field, label);
        JsonToken token = parser.currentToken();
        if (token == JsonToken.VALUE_NUMBER_FLOAT || token == JsonToken.VALUE_NUMBER_INT) {
            long micros = Long.MIN_VALUE;
            if (!cbor && parser.getTextLength() <= LONGEST_PLAIN_NUMBER) {
                micros = TextValues.decimalMicros(
                        parser.getTextCharacters(), parser.getTextOffset(), parser.getTextLength());
            }
            if (micros == Long.MIN_VALUE) {
                double seconds = parser.getDoubleValue();
                micros = Math.abs(seconds) < TextValues.LATEST_EPOCH_S
                        ? Math.round(seconds * MICROS_PER_S)
                        : Long.MIN_VALUE;
            }
            if (micros > -TextValues.LATEST_EPOCH_S * 1_000_000L && micros < TextValues.LATEST_EPOCH_S * 1_000_000L) {
                return micros;
            }
        }
        throw wrong(
                label,
                parser,
                "a number of seconds, below 2^28 relative, else Unix time in " + TextValues.ALLOWED_YEARS);
    }

    private boolean bool(String label, JsonParser parser) throws IOException, BadFrameException {
        mark(BOOLEAN, label);
        if (parser.hasToken(JsonToken.VALUE_TRUE)) {
            return true;
        }
        if (parser.hasToken(JsonToken.VALUE_FALSE)) {
            return false;
        }
        throw wrong(label, parser, "true or false");
    }

    /** Base64 with the URL alphabet and no padding, as JSON carries it; bytes of CBOR are put so. */
    private String data(String label, JsonParser parser) throws IOException, BadFrameException {
        mark(DATA, label);
        if (cbor && parser.hasToken(JsonToken.VALUE_EMBEDDED_OBJECT)) {
            return Base64.getUrlEncoder().withoutPadding().encodeToString(parser.getBinaryValue());
        }
        if (!cbor && parser.hasToken(JsonToken.VALUE_STRING)) {
            String encoded = parser.getText();
            try {
                byte[] octets = Base64.getUrlDecoder().decode(encoded);
                return Base64.getUrlEncoder().withoutPadding().encodeToString(octets);
            } catch (IllegalArgumentException e) {
                throw wrong(label, parser, "base64 with the URL alphabet (RFC 4648 section 5)");
            }
        }
        throw wrong(label, parser, cbor ? "a byte string" : "a string of base64");
    }

    private static BadFrameException wrong(String label, JsonParser parser, String allowed) throws IOException {
        JsonToken token = parser.currentToken();
        String is;
        if (token == JsonToken.START_OBJECT) {
            is = "an object";
        } else if (token == JsonToken.START_ARRAY) {
            is = "an array";
        } else if (token == JsonToken.VALUE_EMBEDDED_OBJECT) {
            is = "bytes";
        } else if (token == JsonToken.VALUE_STRING) {
            is = TextValues.quoted(parser.getText());
        } else {
            String literal = TextValues.quoted(String.valueOf(parser.getText()));
            is = literal.substring(1, literal.length() - 1);
        }
        return new BadFrameException("field \"" + label + "\" is " + is + "; allowed is " + allowed);
    }
}
