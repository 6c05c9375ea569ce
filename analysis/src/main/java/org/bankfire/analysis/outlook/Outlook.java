package org.bankfire.analysis.outlook;

import java.util.List;
import java.util.Optional;
import org.bankfire.analysis.prediction.KnownForge;

/**
 * What lies ahead of a burn, as seen at one moment. Bands hold 95 % of the forges that agree with what is known and was
 * measured.
 *
 * @param atS end of the record that it was made from, s since the burn's start
 * @param basis where the knowledge of the forge comes from, beside this burn
 * @param chamberK what the chamber probe shows now, K; NaN when unknown
 * @param gaugePa gas pressure now, Pa gauge; NaN when unknown
 * @param touchedS when the regulator was turned last, s since the burn's start; NaN when it was not
 * @param beforePa gas pressure before that, Pa gauge; NaN likewise
 * @param missK root mean square by which the known forge, before it learnt of this burn, was off over its recent part, K;
 *     NaN when there was nothing to compare
 * @param settling where the chamber goes at the present pressure; empty when that cannot be said
 * @param idle how to hold the target; empty when that cannot be said
 * @param doubts what is not known or was guessed; when one of them is silencing, nothing is said at all
 */
public record Outlook(
        double atS,
        KnownForge.Basis basis,
        double chamberK,
        double gaugePa,
        double touchedS,
        double beforePa,
        double missK,
        Optional<Settling> settling,
        Optional<IdleAdvice> idle,
        List<Doubt> doubts) {
    public Outlook {
        doubts = List.copyOf(doubts);
    }
}
