using Acquire.Analysis.Judgement;

namespace Acquire.Analysis.StripWork;

/// <summary>What a second strip says about the first.</summary>
public enum SecondStripVerdict
{
    /// <summary>The first lay inside all limits, and so does the second.</summary>
    NothingToConfirm,

    /// <summary>The second is in where the first was out, by more than reading explains.</summary>
    Fluke,

    /// <summary>The second is in where the first was out, but the two differ by no more than reading explains.</summary>
    AtTheLimit,

    /// <summary>The second lies past a limit where the first did, on the same side.</summary>
    Confirmed,

    /// <summary>The two do not say the same, or not enough of them was read.</summary>
    Unclear,
}

/// <summary>A second strip, run at once after one that lay past a limit: two consecutive strips seldom give similar false information (US
/// Navy <i>Photography (Advanced)</i>; US Army SS0514).</summary>
/// <param name="Verdict">What the pair says as a whole.</param>
/// <param name="Changes">Parameter by parameter.</param>
public sealed record SecondStrip(SecondStripVerdict Verdict, ImmutableArray<ParameterChange> Changes)
{
    /// <summary>Past a limit on both strips, on the same side.</summary>
    public ImmutableArray<ParameterChange> Confirmed => [.. Changes.Where(c => c is { WasOutside: true, IsOutside: true } && SameSide(c))];

    /// <summary>Past a limit on the first strip only.</summary>
    public ImmutableArray<ParameterChange> Cleared => [.. Changes.Where(c => c is { WasOutside: true, Second.Zone: Zone.Inside })];

    /// <summary>Past a limit on the second strip only, or past the limit on the other side.</summary>
    public ImmutableArray<ParameterChange> New => [.. Changes.Where(c => c.IsOutside && !(c.WasOutside && SameSide(c)))];

    /// <summary>Holds the second strip against the first.</summary>
    /// <param name="known">What is known when a strip is judged; null to go by the records alone.</param>
    /// <exception cref="Domain.ImpossibleValueException">The strips have different patches.</exception>
    public static SecondStrip Of(StripRecord first, StripRecord second, Func<StripRecord, JudgingGround>? known = null)
    {
        var pair = new SecondStrip(SecondStripVerdict.Unclear, ParameterChange.Between(first, second, known));
        return pair with { Verdict = pair.Weigh() };
    }

    /// <summary>What the pair says, for the user, in the trade's order of work.</summary>
    public string Words() => Verdict switch
    {
        SecondStripVerdict.NothingToConfirm => "Both strips lie inside the action limits: there was nothing to confirm.",
        SecondStripVerdict.Fluke => $"The second strip is in: the first was a fluke ({Listed(Cleared)}). Carry on, and note it.",
        SecondStripVerdict.AtTheLimit =>
            $"The second strip is in, but the two differ by no more than reading explains ({Listed(Cleared)}): the process lies near "
            + "the limit. Read both again with more reads before you call the first a fluke.",
        SecondStripVerdict.Confirmed =>
            $"The second strip CONFIRMS the first: {Listed(Confirmed)}. It is real. Find the cause before film that matters: look at "
            + "the log of the run, then correct one thing and prove it with another strip."
            + Also("Not confirmed", Cleared) + Also("Only on the second strip", New),
        _ when Changes.Any(c => c.WasOutside && c.Second.Zone is null) =>
            $"The second strip cannot confirm the first: "
            + $"{string.Join(", ", Changes.Where(c => c.WasOutside && c.Second.Zone is null).Select(c => c.First.Label))} "
            + "was not read or has no aim on it.",
        _ =>
            "The two strips do not say the same." + Also("Only on the first", Cleared) + Also("Only on the second", New)
            + " Read both again, check the instrument, and run a third strip.",
    };

    private SecondStripVerdict Weigh()
    {
        if (!Confirmed.IsEmpty)
        {
            return SecondStripVerdict.Confirmed;
        }

        var untold = Changes.Any(c => c.WasOutside && c.Second.Zone is null);
        return (Cleared.IsEmpty, New.IsEmpty, untold) switch
        {
            (_, _, true) or (_, false, _) => SecondStripVerdict.Unclear,
            (true, true, _) => SecondStripVerdict.NothingToConfirm,

            // A spread has no uncertainty of its own here; it follows its colours.
            _ when Cleared.Any(c => c.IsReal == true) || Cleared.All(c => c.IsReal is null) => SecondStripVerdict.Fluke,
            _ => SecondStripVerdict.AtTheLimit,
        };
    }

    private static bool SameSide(ParameterChange change) =>
        Math.Sign(change.First.Deviation ?? 0) == Math.Sign(change.Second.Deviation ?? 0);

    private static string Also(string what, ImmutableArray<ParameterChange> changes) =>
        changes.IsEmpty ? "" : $" {what}: {Listed(changes)}.";

    private static string Listed(ImmutableArray<ParameterChange> changes) => string.Join("; ", changes.Select(c =>
        $"{c.First.Label} {Numbers.Deviation(c.First.Deviation ?? 0)}, then {Numbers.Deviation(c.Second.Deviation ?? 0)}"));
}
