package org.bankfire.daemon.report.document;

/** A picture that draws itself on any {@link Canvas}, {@link #WIDTH} wide. Legible in black and white. */
public interface Drawing {
    /** Width of every drawing, points; it is scaled to the sheet. */
    double WIDTH = 500;

    /** What it is, for one who cannot see it. */
    String title();

    /** What it tells, for one who cannot see it. */
    String description();

    /** How high it is, points. */
    double height();

    /** Draws it. */
    void drawOn(Canvas canvas);
}
