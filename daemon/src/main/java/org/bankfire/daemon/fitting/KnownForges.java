package org.bankfire.daemon.fitting;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.bankfire.analysis.burn.Burn;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.heat.ForgeParameters;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.daemon.store.ReadingStore;
import org.bankfire.daemon.store.StoreException;
import org.bankfire.daemon.store.StoredFit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * What the burns so far tell of each forge: the newest fit of a burn that has ended, from the store; else that of the burn
 * that goes on; else the description. Safe for use by many threads.
 */
public final class KnownForges {
    private static final Logger log = LoggerFactory.getLogger(KnownForges.class);
    private static final ObjectMapper JSON = new ObjectMapper();

    /** Half as many as make a prediction's band: each is run many times in an outlook. */
    private static final int DESCRIBED_MEMBERS = 64;
    /** Burns back to which a fit is looked for: one may have been too short to tell anything, ten in a row are not. */
    private static final int BURNS_BACK = 10;

    private final ReadingStore store;
    private final FitKeeper keeper;

    public KnownForges(ReadingStore store, FitKeeper keeper) {
        this.store = store;
        this.keeper = keeper;
    }

    /**
     * What is known of a forge, carried to its description.
     *
     * @param forge as it is now
     */
    public KnownForge latest(ForgeDescription forge) {
        Optional<KnownForge> known = keeper.goesOn(forge.id()) ? Optional.empty() : keeper.known(forge.id());
        return known.or(() -> stored(forge))
                .or(() -> keeper.known(forge.id()))
                .map(told -> told.carriedTo(forge))
                .orElseGet(() -> KnownForge.described(forge, DESCRIBED_MEMBERS));
    }

    private Optional<KnownForge> stored(ForgeDescription forge) {
        return newest(store, forge);
    }

    /**
     * What the newest fit of a burn that has ended tells of a forge, with the jet of that burn.
     *
     * @return empty when no burn tells anything
     */
    public static Optional<KnownForge> newest(ReadingStore store, ForgeDescription forge) {
        try {
            for (Burn burn : store.burns(forge.id(), BURNS_BACK)) {
                Optional<KnownForge> known =
                        store.fit(burn.id()).map(StoredFit::json).flatMap(json -> of(forge, json));
                if (known.isPresent()) {
                    return known;
                }
            }
        } catch (StoreException failure) {
            log.warn("fits of {} cannot be read: {}", forge.id(), failure.getMessage());
        }
        return Optional.empty();
    }

    /**
     * What a stored fit tells of a forge.
     *
     * @param forge as described
     * @param json the fit
     * @return empty when there was no fit, or one of a version that did not keep what is needed
     */
    public static Optional<KnownForge> of(ForgeDescription forge, String json) {
        try {
            JsonNode fit = JSON.readTree(json);
            List<ForgeParameters> all = new ArrayList<>();
            for (JsonNode member : fit.path("members")) {
                double[] values = new double[member.size()];
                for (int i = 0; i < values.length; i++) {
                    values[i] = member.get(i).doubleValue();
                }
                all.add(ForgeParameters.ofOrder(values));
            }
            if (all.isEmpty()) {
                return Optional.empty();
            }
            ForgeDescription fitted = forge.withJet(fit.path("jetM").doubleValue());
            return Optional.of(new KnownForge(fitted, all.get(0), all.subList(1, all.size()), KnownForge.Basis.FITTED));
        } catch (JsonProcessingException | IllegalArgumentException unfit) {
            log.warn("a stored fit of {} is of no use: {}", forge.id(), unfit.getMessage());
            return Optional.empty();
        }
    }
}
