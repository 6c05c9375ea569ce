package org.bankfire.daemon.report.document;

/** Text from anybody, without what a document cannot hold. */
final class SafeText {
    /** Stands for what cannot be shown, as the Unicode standard has it. */
    static final char REPLACEMENT = '\uFFFD';

    private SafeText() {}

    /** With line breaks and tabs as spaces; other controls and half characters are replaced visibly. */
    static String of(String text) {
        StringBuilder safe = null;
        for (int i = 0; i < text.length(); ) {
            int point = text.codePointAt(i);
            int length = Character.charCount(point);
            int shown = shown(point);
            if (shown != point && safe == null) {
                safe = new StringBuilder(text.length()).append(text, 0, i);
            }
            if (safe != null) {
                safe.appendCodePoint(shown);
            }
            i += length;
        }
        return safe == null ? text : safe.toString();
    }

    private static int shown(int point) {
        if (point == '\n' || point == '\r' || point == '\t' || point == 0x2028 || point == 0x2029) {
            return ' ';
        }
        boolean half = point >= Character.MIN_SURROGATE && point <= Character.MAX_SURROGATE;
        boolean none = (point & 0xFFFE) == 0xFFFE || (point >= 0xFDD0 && point <= 0xFDEF);
        return Character.isISOControl(point) || half || none ? REPLACEMENT : point;
    }
}
