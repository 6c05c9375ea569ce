package org.bankfire.daemon.fitting;

/** Whom a {@link BurnGatherer} tells; called on its thread, and to return at once. */
public interface BurnTaker {
    /** A burn has begun; the one before it has been taken. */
    default void begun(String forge, String burnId) {}

    /** What hands did before the burn in hand, or while none goes on, is told otherwise than before. */
    default void retold(String forge, Retold what) {}

    /** A burn that goes on is offered this often, s of the burn. */
    default double everyS() {
        return 60;
    }

    /** Whether a burn of that forge is wanted at that stage; making it costs some milliseconds. */
    boolean wants(String forge, String burnId, GatheredBurn.Stage stage);

    /** A burn that was wanted. */
    void take(GatheredBurn burn);
}
