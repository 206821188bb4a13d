using System.Collections.Frozen;

namespace TruthBenchmark.Claims;

/// <summary>
/// Aims that the product is known to miss, with what it holds to instead and why. With <c>--known</c> a run fails only where a figure is
/// worse than that; without it every missed aim counts.
/// </summary>
internal static class KnownLimits
{
    private const string OneWidth =
        "one assumed width cannot hold 93 to 98 % of quiet and of restless instruments alike, and it is chosen for the restless";

    private const string ZeroWider = "a test does not tell the zero, which is taken to move a little more than it does here";

    private const string LifeIsWide =
        "the interval allows for the aims, for bends and for every parameter looked at; of few strips that is much";

    private static readonly FrozenDictionary<string, (Band Held, string Why)> All = new Dictionary<string, (Band, string)>
    {
        ["v2-2-10-held"] = (Band.AtLeast(0.93), OneWidth),
        ["v2-3-10-held"] = (Band.AtLeast(0.93), OneWidth),
        ["v2-mixed"] = (Band.AtLeast(0.93), OneWidth),
        ["v2-learnt-3"] = (Band.AtLeast(0.93), OneWidth),
        ["v4-dmin"] = (Band.AtLeast(0.93), ZeroWider),
        ["v5-typed-3"] = (Band.AtLeast(0.94), ZeroWider),
        ["v6-spread-0-bias"] = (Band.Between(-0.006, 0.009), "a spread has no sign, so noise at a truth of 0 can only add to it"),
        ["l8-held-6"] = (Band.AtLeast(0.93), LifeIsWide),
        ["l8-held-15"] = (Band.AtLeast(0.93), LifeIsWide),
        ["l8-held-60"] = (Band.AtLeast(0.93), LifeIsWide),
        ["c9-quiet-scattered"] = (
            Band.AtLeast(0.91), "twenty strips tell how a line scatters to a sixth only, and one that scatters more than usual by less"),
        ["p10-live-halves"] = (Band.AtLeast(0.2), "contrast off with LD right is what a fault of the process makes, too"),
        ["p10-typed-halves"] = (Band.AtLeast(0.1), "contrast off with LD right is what a fault of the process makes, too"),
    }.ToFrozenDictionary();

    /// <summary>Why a claim's aim is missed, where it holds to what is known; null where it is worse, or not known.</summary>
    public static string? Why(Claim claim) =>
        All.TryGetValue(claim.Id, out var known) && (claim with { Aim = known.Held }).Standing is Standing.Met or Standing.WithinError
            ? known.Why
            : null;
}
