using Acquire.Analysis.Causes;
using TruthBenchmark.World;

namespace TruthBenchmark.Product;

/// <summary>What is said of the cause of a strip's deviations.</summary>
/// <param name="Quiet">Whether natural scatter is said to explain it.</param>
/// <param name="Ranked">Families by the product's own words, with the probability said, the likeliest first.</param>
/// <param name="FirstStep">What to do first; empty when nothing is to be done.</param>
internal sealed record CausesSaid(bool Quiet, ImmutableArray<(string Family, double Probability)> Ranked, string FirstStep)
{
    /// <summary>The family that stands for a pattern of no fault in the list.</summary>
    public const string SomethingElse = "somethingElse";

    private static readonly Dictionary<FaultKind, string> Families = new()
    {
        [FaultKind.Overdeveloped] = FaultFamily.DeveloperStrong.Key,
        [FaultKind.Underdeveloped] = FaultFamily.DeveloperWeak.Key,
        [FaultKind.Contaminated] = FaultFamily.Contamination.Key,
        [FaultKind.Silver] = FaultFamily.RetainedSilver.Key,
        [FaultKind.LeucoCyan] = FaultFamily.LeucoCyan.Key,
        [FaultKind.Stain] = FaultFamily.Stain.Key,
        [FaultKind.Strips] = FaultFamily.Strips.Key,
        [FaultKind.Instrument] = FaultFamily.Instrument.Key,
    };

    private static readonly ImmutableArray<string> Reading = ["reading", "damagedPatch"];
    private static readonly ImmutableArray<string> Strange = ["otherLot", "otherMaker", "otherStatus", SomethingElse];

    /// <summary>Whether the user is told first to read the strip again.</summary>
    public bool AsksToReadAgain =>
        FirstStep.Contains("read", StringComparison.OrdinalIgnoreCase) && FirstStep.Contains("again", StringComparison.OrdinalIgnoreCase);

    public string? First => Ranked.IsEmpty ? null : Ranked[0].Family;

    /// <summary>The family that is said with nine in ten or more; null for none.</summary>
    public string? Certain => Ranked.FirstOrDefault(r => r.Probability >= 0.9).Family;

    public static string Of(FaultKind kind) => Families[kind];

    /// <summary>Whether a family is one of the faults of process, strips and instrument.</summary>
    public static bool IsFault(string? family) => family is not null && Families.ContainsValue(family);

    /// <summary>
    /// The families that are right for a story. Reading again tells a mistyped cell from a damaged patch, so either will do; and whoever
    /// says that it is none of the list is right about strips, aims and status that do not belong together.
    /// </summary>
    public static ImmutableArray<string> Right(CauseStory story) => story.Mishap switch
    {
        null => [.. story.Kinds.Select(Of)],
        Mishap.Unlisted => [SomethingElse],
        Mishap.OneCell or Mishap.WrongEnd or Mishap.DamagedPatch => Reading,
        _ => Strange,
    };

    /// <summary>Asks about the last strip of a house.</summary>
    public static CausesSaid Of(House house)
    {
        var desk = new Desk(house);
        var known = desk.Judging.GroundOf;
        var study = CauseStudy.Of(desk.Record(house.Strips.Length - 1), CauseContext.None with
        {
            Ground = known,
            Scatter = NaturalScatter.LearntFrom(Enumerable.Range(0, house.Strips.Length - 1).Select(desk.Record), known),
        });
        return new CausesSaid(
            study.NothingHappened,
            [.. study.Groups.Select(g => (g.Family.Key, g.Probability))],
            study.Steps.IsEmpty ? "" : study.Steps[0]);
    }
}
