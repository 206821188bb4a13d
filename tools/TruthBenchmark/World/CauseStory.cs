namespace TruthBenchmark.World;

/// <summary>One strip that something happened to, as a user wrote it down; and what it was.</summary>
/// <param name="Papers">Reference and strip; the strip is the last.</param>
/// <param name="Kinds">The faults at work; none when nothing happened, or a mishap did.</param>
internal sealed record CauseStory(House Papers, ImmutableArray<FaultKind> Kinds, Mishap? Mishap)
{
    public static CauseStory Nothing(Dice dice) => new(StripStory.Of(dice, film => film), [], null);

    /// <summary>Faults, each so many action limits.</summary>
    public static CauseStory Of(Dice dice, double limits, params ImmutableArray<FaultKind> kinds) =>
        new(StripStory.Of(dice, film => kinds.Aggregate(film, (strip, k) => strip + Faults.Draw(k, dice, film, limits))), kinds, null);

    public static CauseStory Of(Dice dice, Mishap mishap) =>
        new(StripStory.Of(dice, strip => Mishaps.Befall(mishap, dice, strip)), [], mishap);

    /// <summary>A strip of a line that scatters more than usual, after so many others of it; nothing happened.</summary>
    public static CauseStory Scattered(Dice dice, double scatter, int before) =>
        new(StripStory.Of(dice, film => film, scatter, before), [], null);

    /// <summary>What a year brings: nothing mostly, then what happens to everybody, now and then two things or a mistake.</summary>
    public static CauseStory Any(Dice dice)
    {
        var limits = dice.Times(0.6, 3);
        return dice.Unit() switch
        {
            < 0.30 => Nothing(dice),
            < 0.75 => Of(dice, limits, Usual(dice)),
            < 0.83 => Of(dice, limits, Two(dice)),
            < 0.90 => Of(dice, World.Mishap.Unlisted),
            _ => Of(dice, dice.Pick(Mishaps.All.Where(m => m != World.Mishap.Unlisted).ToList())),
        };
    }

    public static ImmutableArray<FaultKind> Two(Dice dice)
    {
        var first = dice.Pick(Faults.Kinds);
        FaultKind second;
        do
        {
            second = dice.Pick(Faults.Kinds);
        }
        while (second == first || (Math.Min((int)first, (int)second), Math.Max((int)first, (int)second)) == (0, 1));
        return [first, second];
    }

    // Temperature, time, use and air trouble every darkroom; the rest comes less often.
    private static FaultKind Usual(Dice dice) => dice.Unit() switch
    {
        < 0.25 => FaultKind.Overdeveloped,
        < 0.55 => FaultKind.Underdeveloped,
        _ => dice.Pick(Faults.Kinds[2..]),
    };
}
