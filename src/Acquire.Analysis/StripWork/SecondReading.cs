using Acquire.Analysis.Judgement;

namespace Acquire.Analysis.StripWork;

/// <summary>The same strip read again, as it is or after it was bleached, fixed, washed or dried again. Bleaching and fixing again removes
/// retained silver and silver halide, so what comes back tells which bath had left it.</summary>
/// <param name="Treatment">What was done in between.</param>
/// <param name="Changes">Parameter by parameter.</param>
public sealed record SecondReading(Treatment Treatment, ImmutableArray<ParameterChange> Changes)
{
    /// <summary>Past a limit before, and nearer to the aim now by more than reading explains.</summary>
    public ImmutableArray<ParameterChange> CameBack => [.. Changes.Where(c => c is { WasOutside: true, IsReal: true } && IsTowardsAim(c))];

    /// <summary>Past a limit before, and not nearer to the aim by more than reading explains.</summary>
    public ImmutableArray<ParameterChange> Stayed =>
        [.. Changes.Where(c => c is { WasOutside: true, IsReal: not null } && !(c.IsReal == true && IsTowardsAim(c)))];

    /// <summary>Inside the limits before, and moved by more than reading explains.</summary>
    public ImmutableArray<ParameterChange> AlsoMoved => [.. Changes.Where(c => c is { WasOutside: false, IsReal: true })];

    /// <summary>Holds the second reading against the first.</summary>
    /// <param name="known">What is known when a strip is judged; null to go by the records alone.</param>
    /// <exception cref="Domain.ImpossibleValueException">The records are not of one strip: their lots or patches differ.</exception>
    public static SecondReading Of(StripRecord first, StripRecord again, Func<StripRecord, JudgingGround>? known = null)
    {
        return Keys.Same(first.LotCode, again.LotCode)
            ? new SecondReading(again.Tags.Reread?.After ?? Treatment.None, ParameterChange.Between(first, again, known))
            : throw new Domain.ImpossibleValueException(
                $"A strip of lot {first.LotCode} cannot be read again as one of lot {again.LotCode}.");
    }

    /// <summary>What moved and what that speaks for, for the user, a sentence each; as much as the readings bear and no more.</summary>
    public IEnumerable<string> Words()
    {
        if (!Changes.Any(c => c.WasOutside))
        {
            yield return AlsoMoved.IsEmpty
                ? "Nothing lay past a limit before, and nothing has moved by more than reading explains."
                : $"Nothing lay past a limit before. Moved by more than reading explains: {Listed(AlsoMoved, "by")}.";
            yield break;
        }

        foreach (var change in CameBack)
        {
            var left = change.IsOutside ? $", and lies at {Numbers.Deviation(change.Second.Deviation!.Value)}, still past a limit" : "";
            yield return $"{change.First.Label} came back by "
                + $"{DensityWords.Size(change.Change!.Value, change.StandardUncertainty!.Value)}{left}.";
        }

        if (!Stayed.IsEmpty)
        {
            yield return $"Not nearer to the aim than reading explains: {Listed(Stayed, "moved")}.";
        }

        if (!AlsoMoved.IsEmpty)
        {
            yield return $"Inside the limits before, but moved as well: {Listed(AlsoMoved, "by")}.";
        }

        if (!CameBack.IsEmpty || !Stayed.IsEmpty)
        {
            yield return CameBack.IsEmpty ? NotIt(Treatment) : It(Treatment);
        }
    }

    private static string It(Treatment treatment) => treatment switch
    {
        Treatment.ReBleach =>
            "That speaks for the bleach. The strip was fixed again with it, so a weak fixer is not ruled out: fix another such strip "
            + "alone to tell.",
        Treatment.ReFix => "That speaks for the fixer.",
        Treatment.ReWash => "That speaks for the wash.",
        Treatment.Drying => "That speaks for a strip that was not dry when it was read first.",
        _ => "One of the two readings is wrong: look for a wrong patch or end, dirt, a zero that was not set. A third reading tells which.",
    };

    private static string NotIt(Treatment treatment) => treatment switch
    {
        Treatment.ReBleach => "Bleaching and fixing again did not bring it back: look for the cause elsewhere than in bleach and fixer.",
        Treatment.ReFix => "Fixing again did not bring it back: look for the cause elsewhere than in the fixer.",
        Treatment.ReWash => "Washing again did not bring it back: look for the cause elsewhere than in the wash.",
        Treatment.Drying => "Drying did not bring it back: the strip was not wet.",
        _ => "The reading repeats, so it was no slip in reading. Check the instrument, then run a second strip.",
    };

    private static bool IsTowardsAim(ParameterChange change) =>
        change is { First.Deviation: { } before, Change: { } moved } && Math.Sign(moved) == -Math.Sign(before);

    private static string Listed(ImmutableArray<ParameterChange> changes, string verb) => string.Join("; ", changes.Select(c =>
        $"{c.First.Label} {verb} {DensityWords.Signed(c.Change!.Value, c.StandardUncertainty!.Value)}"));
}

/// <summary>Numbers in sentences.</summary>
internal static class DensityWords
{
    /// <summary>A change with its sign and standard uncertainty.</summary>
    public static string Signed(double value, double uncertainty) =>
        $"{Numbers.Deviation(value)} ± {uncertainty.ToString("0.000", CultureInfo.InvariantCulture)}";

    /// <summary>A size with its standard uncertainty.</summary>
    public static string Size(double value, double uncertainty) =>
        string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(value):0.000} ± {uncertainty:0.000}");
}
