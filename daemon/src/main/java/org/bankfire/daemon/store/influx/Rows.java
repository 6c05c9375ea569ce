package org.bankfire.daemon.store.influx;

import java.util.List;
import org.bankfire.analysis.reading.WallTime;
import org.influxdb.dto.QueryResult;
import org.jspecify.annotations.Nullable;

/** The rows of one answer, read by the columns' names. */
final class Rows {
    private static final long NANOS_PER_MICRO = 1_000;

    private final List<String> columns;
    private final List<List<Object>> values;
    private int at = -1;

    private Rows(List<String> columns, List<List<Object>> values) {
        this.columns = columns;
        this.values = values;
    }

    /** Of an answer of one series, or of none. */
    static Rows of(List<QueryResult.Series> answer) {
        return answer.isEmpty()
                ? new Rows(List.of(), List.of())
                : new Rows(answer.get(0).getColumns(), answer.get(0).getValues());
    }

    int size() {
        return values.size();
    }

    /** Goes to the next row; false when there is none. */
    boolean next() {
        at++;
        return at < values.size();
    }

    WallTime time() {
        return new WallTime(Math.floorDiv(whole("time"), NANOS_PER_MICRO));
    }

    /** A text that may be missing. */
    @Nullable
    String textOrNull(String column) {
        return value(column) instanceof String line ? LineEncoder.manyLines(line) : null;
    }

    String text(String column) {
        String text = textOrNull(column);
        return text == null ? "" : text;
    }

    /** A tag of free text. */
    String tag(String column) {
        return value(column) instanceof String tag ? LineEncoder.ofTagText(tag) : "";
    }

    long whole(String column) {
        Object value = value(column);
        if (value instanceof Number number) {
            return number.longValue();
        }
        throw new IllegalStateException("column " + column + " holds " + value + " instead of a whole number");
    }

    /** A number; NaN when it is missing. */
    double number(String column) {
        Object value = value(column);
        return value instanceof Number number ? number.doubleValue() : Double.NaN;
    }

    boolean flag(String column) {
        return Boolean.TRUE.equals(value(column));
    }

    private @Nullable Object value(String column) {
        int index = columns.indexOf(column);
        return index < 0 ? null : values.get(at).get(index);
    }
}
