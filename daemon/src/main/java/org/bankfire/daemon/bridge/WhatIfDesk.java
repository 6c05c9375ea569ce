package org.bankfire.daemon.bridge;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.function.Supplier;
import org.bankfire.analysis.forge.ForgeDescription;
import org.bankfire.analysis.forge.Opening;
import org.bankfire.analysis.logbook.EntryRules;
import org.bankfire.analysis.prediction.CarryOver;
import org.bankfire.analysis.prediction.GasProgramme;
import org.bankfire.analysis.prediction.KnownForge;
import org.bankfire.analysis.prediction.Prediction;
import org.bankfire.analysis.prediction.PredictionRequest;
import org.bankfire.analysis.prediction.Predictor;
import org.bankfire.analysis.reading.Setting;
import org.bankfire.daemon.config.BankfireConfig;
import org.bankfire.daemon.config.ConfigException;
import org.bankfire.daemon.config.ConfigProblem;
import org.bankfire.daemon.config.ForgeChanges;
import org.bankfire.daemon.config.ForgeConfig;
import org.bankfire.daemon.report.WhatIfJson;
import org.bankfire.dashboard.source.WhatIf;

/**
 * Predicts forges as they are and as they would be, for the page. Works on a thread of its own, for it takes seconds: the
 * ledger's never waits.
 */
public final class WhatIfDesk implements WhatIf {
    /** As {@code predict} has it, s. */
    private static final double DURATION_S = 14_400;

    /** Settings of the log that change the description, and their keys and usual units. */
    private static final Map<String, String[]> SETTINGS = Map.of(
            EntryRules.JET, new String[] {"burner.jet", "mm"},
            EntryRules.CHOKE, new String[] {"burner.choke", ""},
            EntryRules.OBSTRUCTION, new String[] {"burner.obstruction", ""});

    private static final String PLUG = "plug";

    private final BankfireConfig config;
    private final Map<String, ForgeConfig> forges = new LinkedHashMap<>();
    private final Function<ForgeDescription, KnownForge> known;
    private final Function<String, Map<String, Setting>> inForce;
    private final WhatIfQueue queue;
    /** The latest prediction of each forge as it is today: it changes with a fit or a setting only. */
    private final Map<String, Done> todays = new HashMap<>();

    /** A prediction and what it was made from. */
    private record Done(KnownForge known, Prediction prediction) {}

    /**
     * A desk.
     *
     * @param known what the burns tell of a forge
     * @param inForce the settings of the log that hold now, by the forge's id
     * @param queue where questions wait
     */
    public WhatIfDesk(
            BankfireConfig config,
            Function<ForgeDescription, KnownForge> known,
            Function<String, Map<String, Setting>> inForce,
            WhatIfQueue queue) {
        this.config = config;
        config.forges().forEach(forge -> forges.put(forge.id(), forge));
        this.known = known;
        this.inForce = inForce;
        this.queue = queue;
    }

    /** The forge as the configuration and the log have it. */
    private record Today(ForgeConfig forge, Map<String, String> fromLog, List<String> doubts) {}

    private ForgeConfig forge(String id) {
        return Objects.requireNonNull(forges.get(id), id);
    }

    private Today today(String id) {
        ForgeConfig asConfigured = forge(id);
        ForgeChanges changes = new ForgeChanges(config, asConfigured);
        ForgeConfig today = asConfigured;
        Map<String, String> taken = new TreeMap<>();
        List<String> doubts = new ArrayList<>();
        for (Map.Entry<String, String> told :
                told(asConfigured, inForce.apply(id)).entrySet()) {
            Map<String, String> more = new TreeMap<>(taken);
            more.put(told.getKey(), told.getValue());
            try {
                ForgeConfig next = changes.with(more).forge();
                if (!next.description().equals(today.description())) {
                    taken = more;
                    today = next;
                }
            } catch (ConfigException unusable) {
                doubts.add(told.getKey() + ": the log says \"" + told.getValue()
                        + "\", which cannot be reckoned with; taken as configured");
            }
        }
        return new Today(today, taken, doubts);
    }

    private static Map<String, String> told(ForgeConfig forge, Map<String, Setting> inForce) {
        Map<String, String> told = new TreeMap<>();
        SETTINGS.forEach((name, key) -> {
            Setting setting = inForce.get(name);
            if (setting != null) {
                String unit = setting.unit().isEmpty() ? key[1] : setting.unit();
                told.put(key[0], (setting.value() + " " + unit).strip());
            }
        });
        Setting plug = inForce.get(PLUG);
        if (plug != null && plug.value().equals("out")) {
            for (Opening opening : forge.description().openings()) {
                if (opening.plugged()) {
                    told.put("opening." + opening.name() + ".plug", "out");
                }
            }
        }
        return told;
    }

    private KnownForge knownOf(ForgeDescription forge) {
        KnownForge told = known.apply(forge);
        // Without a burn the answer is that of the command, to the last digit.
        return told.basis() == KnownForge.Basis.FITTED
                ? told
                : KnownForge.described(forge, PredictionRequest.DEFAULT_MEMBERS);
    }

    @Override
    public String keys(String forge) {
        Today today = today(forge);
        KnownForge told = known.apply(today.forge().description());
        return WhatIfJson.keys(forge(forge), today.forge(), today.fromLog(), told.basis(), today.doubts());
    }

    @Override
    public String answer(String forge, Asked asked) {
        Today today = today(forge);
        Map<String, String> all = new TreeMap<>(today.fromLog());
        all.putAll(asked.changes());
        ForgeChanges.Changed changed;
        try {
            changed = new ForgeChanges(config, forge(forge)).with(all);
        } catch (ConfigException refused) {
            throw refusal(refused, all);
        }
        return queue.ask(asked.page(), goOn -> work(today, changed, all, goOn));
    }

    private String work(Today today, ForgeChanges.Changed changed, Map<String, String> all, Supplier<Boolean> goOn) {
        KnownForge now = knownOf(today.forge().description());
        CarryOver over = CarryOver.of(now, changed.forge().description());
        Prediction was = todays(now);
        if (!goOn.get()) {
            throw WhatIfQueue.replaced();
        }
        Prediction is = Predictor.predict(over.forge(), request(over.forge()));
        List<String> doubts = new ArrayList<>(today.doubts());
        doubts.addAll(changed.doubts());
        return WhatIfJson.answer(new WhatIfJson.Answer(
                today.forge(), changed.forge(), now.basis(), was, is, over.learnt(), all, doubts));
    }

    private static PredictionRequest request(KnownForge forge) {
        return PredictionRequest.heatUp(
                GasProgramme.constant(forge.description().burner().heatUpPressurePa()), DURATION_S);
    }

    /** Called by the one thread that works. */
    private synchronized Prediction todays(KnownForge now) {
        String id = now.description().id();
        Done done = todays.get(id);
        if (done == null || !done.known().equals(now)) {
            done = new Done(now, Predictor.predict(now, request(now)));
            todays.put(id, done);
        }
        return done.prediction();
    }

    private static RefusedException refusal(ConfigException refused, Map<String, String> asked) {
        ConfigProblem first = refused.problems().get(0);
        String key = first.key().replaceFirst("^forge\\.0\\.", "");
        String value = asked.getOrDefault(key, first.value());
        String message = key + (value.isEmpty() ? "" : " = " + value) + ": " + first.allowed()
                + (first.nearest().isEmpty() ? "" : "; did you mean \"" + first.nearest() + "\"?");
        return new RefusedException(message, key, value, first.allowed(), first.nearest());
    }
}
