package org.bankfire.daemon.notify;

import java.security.SecureRandom;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;
import org.bankfire.analysis.alarm.AlarmTransition;
import org.bankfire.analysis.monitor.ForgeSnapshot;
import org.bankfire.daemon.acquire.ReceiptClock;
import org.bankfire.daemon.acquire.mqtt.BackOff;
import org.bankfire.daemon.config.OutputConfig;
import org.bankfire.dashboard.source.OutputBook;

/** All outputs of a daemon. What they are given they take at once, whatever their peers do. */
public final class Outputs implements OutputBook, AutoCloseable {
    /**
     * The ledger publishes snapshots several times a second; fifteen of those missed in a row are no pause of a busy
     * machine any more.
     */
    private static final long SILENCE_NANOS = TimeUnit.SECONDS.toNanos(3);

    private final List<OutputWorker> workers = new ArrayList<>();
    private final List<MqttCarrier> brokers = new ArrayList<>();
    private volatile BooleanSupplier pulse = () -> false;
    private volatile BooleanSupplier logging = () -> false;
    private volatile long lastSnapshotNanos = System.nanoTime() - 2 * SILENCE_NANOS;
    private boolean started;

    /**
     * Outputs at rest: they take what is to be told and begin to tell it at the start.
     *
     * @param forgeNames names for the reader, by id
     */
    public Outputs(List<OutputConfig> configs, Map<String, String> forgeNames, ReceiptClock clock) {
        Wording wording = new Wording(forgeNames, ZoneId.systemDefault());
        SplittableRandom random = new SplittableRandom(new SecureRandom().nextLong());
        for (OutputConfig config : configs) {
            Carrier carrier = carrier(config, clock, new BackOff(random.split()));
            workers.add(new OutputWorker(
                    config.telling(),
                    config.kind(),
                    carrier,
                    wording,
                    clock,
                    System::nanoTime,
                    new BackOff(random.split()),
                    OutputWorker.FAREWELL_MS));
        }
    }

    private Carrier carrier(OutputConfig config, ReceiptClock clock, BackOff backOff) {
        if (config instanceof OutputConfig.Mqtt mqtt) {
            MqttCarrier broker = new MqttCarrier(
                    mqtt, clock, System::nanoTime, this::isAlive, () -> logging.getAsBoolean(), backOff);
            brokers.add(broker);
            return broker;
        }
        if (config instanceof OutputConfig.Webhook webhook) {
            return new WebhookCarrier(webhook, Instant::now);
        }
        if (config instanceof OutputConfig.Mail mail) {
            return new MailCarrier(mail, Instant::now);
        }
        return new CommandCarrier((OutputConfig.Command) config);
    }

    /**
     * Begins to tell.
     *
     * @param pulseNow whether readings are watched and alarms raised: the heart beats only while this holds
     * @param loggingNow whether readings are stored
     */
    public synchronized void start(BooleanSupplier pulseNow, BooleanSupplier loggingNow) {
        pulse = pulseNow;
        logging = loggingNow;
        started = true;
        workers.forEach(OutputWorker::start);
    }

    /** Takes one step of an alarm. */
    public void onAlarm(AlarmTransition step) {
        for (OutputWorker worker : workers) {
            worker.take(step, false);
        }
    }

    /** Takes an alarm that still called for somebody when the daemon stopped: whether it was told nobody knows any more. */
    public void onStanding(AlarmTransition step) {
        for (OutputWorker worker : workers) {
            worker.take(step, true);
        }
    }

    /** Takes how a forge stands. */
    public void onSnapshot(ForgeSnapshot snapshot) {
        lastSnapshotNanos = System.nanoTime();
        for (MqttCarrier broker : brokers) {
            broker.take(snapshot);
        }
    }

    private boolean isAlive() {
        return System.nanoTime() - lastSnapshotNanos < SILENCE_NANOS && pulse.getAsBoolean();
    }

    @Override
    public List<OutputState> outputs() {
        return workers.stream().map(OutputWorker::state).toList();
    }

    @Override
    public Optional<CompletableFuture<Tested>> test(String name) {
        for (OutputWorker worker : workers) {
            if (worker.name().equals(name)) {
                return Optional.of(worker.test());
            }
        }
        return Optional.empty();
    }

    /** Brings away what waits and stops, all at once: a dead peer's wait is not added to another's. */
    @Override
    public synchronized void close() {
        if (!started) {
            return;
        }
        started = false;
        List<Thread> closers = new ArrayList<>();
        for (OutputWorker worker : workers) {
            Thread closer = new Thread(worker::close, "close " + worker.name());
            closer.start();
            closers.add(closer);
        }
        try {
            for (Thread closer : closers) {
                closer.join();
            }
        } catch (InterruptedException interrupted) {
            Thread.currentThread().interrupt();
        }
    }
}
