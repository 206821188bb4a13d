using Acquire.Analysis.Judgement;
using Acquire.Formats.ProcessSheets;

namespace Acquire.Analysis.Tests.Judgement;

/// <summary>Strips, lots and references made of a few numbers.</summary>
internal static class Some
{
    public static DateTimeOffset Time { get; } = new(2031, 3, 4, 18, 30, 0, TimeSpan.Zero);

    public static Provenance Provenance { get; } = new(Time, "evening class", null);

    public static ProcessSheet C41 { get; } = ShippedSheets.Get("c41");

    /// <summary>Aims of nobody's real strips: D-min, LD, HD, D-max, yellow.</summary>
    public static ImmutableArray<(string Key, decimal R, decimal G, decimal B)> Densities { get; } =
    [
        ("dmin", 0.26m, 0.62m, 0.80m),
        ("ld", 0.46m, 0.84m, 1.04m),
        ("hd", 1.26m, 1.74m, 2.00m),
        ("dmax", 2.12m, 2.58m, 2.92m),
        ("yellow", 0.37m, 0.88m, 2.72m),
    ];

    public static Reading Reading(decimal r, decimal g, decimal b) =>
        Domain.Densitometry.Reading.Entered(ChannelDensities.Rgb(r, g, b), Time);

    public static PatchReads Reads(string key, params IEnumerable<Reading> readings) =>
        new(C41.Layout.GetByKey(key), [.. readings.Select(r => new PatchRead(r))]);

    /// <summary>Single-channel reads of one patch.</summary>
    public static PatchReads Reds(string key, params IEnumerable<decimal> reds) =>
        Reads(key, reds.Select(r => new Reading(new ChannelDensities(new Density(r), null, null), Time, [])));

    public static ImmutableArray<PatchReads> Patches(
        IEnumerable<(string Key, decimal R, decimal G, decimal B)> densities, int reads = 1) =>
        [.. densities.Select(d => Reads(d.Key, Enumerable.Repeat(Reading(d.R, d.G, d.B), reads)))];

    /// <summary>The usual densities with some patches changed by so much.</summary>
    public static ImmutableArray<(string Key, decimal R, decimal G, decimal B)> Moved(
        params (string Key, decimal R, decimal G, decimal B)[] moves) =>
    [
        .. from d in Densities
           let m = moves.FirstOrDefault(m => m.Key == d.Key)
           select (d.Key, d.R + m.R, d.G + m.G, d.B + m.B),
    ];

    public static StripLot Lot(params CorrectionFactor[] factors) => new("1204", "c41", C41.Layout, [.. factors]);

    public static LotReference Reference(ImmutableArray<PatchReads> patches, string lot = "1204") =>
        new(Guid.CreateVersion7(Time), lot, patches, Provenance, Revision.First("evening class", Time, "read"));

    public static StripRecord Strip(
        ImmutableArray<PatchReads> patches, ImmutableArray<Aim>? aims = null, ProcessSheet? judgedBy = null) => new(
        Guid.CreateVersion7(Time),
        "1204",
        C41.Layout,
        judgedBy ?? C41,
        patches,
        PatchMeans.Of(patches),
        aims ?? Aims.Of(Lot(), Reference(Patches(Densities))),
        Provenance,
        Revision.First("evening class", Time, "read"));

    public static ParameterResult Result(this StripJudgement judgement, string parameter, Channel? channel = null) =>
        judgement.Results.Single(r => r.Parameter.Key == parameter && r.Channel == channel);
}
