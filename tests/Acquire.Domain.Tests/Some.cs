namespace Acquire.Domain.Tests;

/// <summary>Values that a test does not care about.</summary>
internal static class Some
{
    public static DateTimeOffset Time { get; } = new(2031, 3, 4, 18, 30, 0, TimeSpan.Zero);

    public static StripLayout Layout { get; } = new("three", [new Patch("dmin", "D-min"), new Patch("ld", "LD"), new Patch("hd", "HD")]);

    public static Provenance Provenance { get; } = new(Time, "evening class", null);

    public static Revision Revision { get; } = Revision.First("evening class", Time, "read");

    public static ImmutableArray<Channel> Red { get; } = [Channel.Red];

    public static Limit Limit { get; } = new(-0.06, 0.06, "house");

    public static PatchParameter Ld { get; } = new("ld", "LD", "speed", "ld", Channels.Colours, new ParameterLimits(Limit, null));

    public static ProcessSheet Sheet { get; } = new("house", "House", DensityStatus.M, Layout, [Ld]);

    public static Reading Reading(decimal density) =>
        Domain.Densitometry.Reading.Entered(ChannelDensities.Rgb(density, density, density), Time);

    public static PatchReads Reads(string key, params IEnumerable<decimal> densities) =>
        new(Layout.Get(key), [.. densities.Select(d => new PatchRead(Reading(d)))]);
}
