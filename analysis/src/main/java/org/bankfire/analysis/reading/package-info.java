/**
 * What the instrument knows at one moment: a channel's value with its unit, quality, uncertainty and times, and the
 * notes and settings that the user adds. Every other package is written in these terms.
 */
@NullMarked
package org.bankfire.analysis.reading;

import org.jspecify.annotations.NullMarked;
