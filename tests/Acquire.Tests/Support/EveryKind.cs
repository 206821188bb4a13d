using Acquire.Formats.ProcessSheets;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Tests.Support;

/// <summary>
/// A season of the evening class judged by an own sheet with one parameter of every kind. Limits common to the channels are so narrow that
/// every strip lies out of them; one channel of each parameter, where it has channels, has a wide one of its own, inside which every strip
/// lies. Invented numbers.
/// </summary>
public sealed class EveryKind : IAsyncLifetime
{
    public const double Narrow = 0.001, Wide = 0.5;
    private const string OwnSource = "our own, for one channel";
    private static readonly DateTimeOffset Start = new(2026, 2, 2, 19, 0, 0, TimeSpan.Zero);
    private static readonly ParameterLimits Common = new(null, new Limit(-Narrow, Narrow, "sheet in the box"));
    private static readonly ParameterLimits Tight = new(new Limit(-Narrow / 2, Narrow / 2, "sheet in the box"), Common.Control);
    private static readonly ImmutableArray<(string Key, double? LogH)> Steps =
        [("dmin", null), ("s1", 0.3), ("ld", 0.9), ("s3", 1.5), ("hd", 2.1), ("dmax", 2.7)];

    private readonly InMemory _program = new() { Time = new FakeTimeProvider(Start.AddDays(60)) };

    /// <summary>One of each kind; a new kind needs a line here.</summary>
    public static ImmutableArray<Parameter> Parameters { get; } =
    [
        Own(new PatchParameter("ld", "LD", "speed", "ld", Channels.Colours, Tight), Channel.Red),
        Own(new DifferenceParameter("contrast", "HD − LD", "contrast", "hd", "ld", Channels.Colours, Tight), Channel.Green),
        new SpreadParameter(
            "spread",
            "Colour spread",
            "balance",
            "contrast",
            new(new Limit(null, Narrow / 2, "sheet in the box"), new Limit(null, Narrow, "sheet in the box"))),
        Own(new GradientParameter(
            "gradient",
            "Average gradient",
            "contrast",
            new AboveBase(0.2),
            new BeyondFirst(1.2),
            "dmin",
            Channels.Colours,
            Tight), Channel.Blue),
        Own(new SlopeParameter("slope", "Straight part", "contrast", "s1", "hd", Channels.Colours, Tight), Channel.Red),
        Own(
            new SpeedPointParameter("speed-point", "Speed point", "speed", new AboveBase(0.2), "dmin", Channels.Colours, Tight),
            Channel.Green),
    ];

    /// <summary>The keys of the examples, by kind.</summary>
    public static TheoryData<string> Keys => [.. Parameters.Select(p => p.Key)];

    /// <summary>The kinds there are.</summary>
    public static IEnumerable<Type> Kinds =>
        typeof(Parameter).Assembly.GetTypes().Where(t => t.IsSubclassOf(typeof(Parameter)) && !t.IsAbstract);

    internal static ProcessSheet Sheet { get; } = new(
        "c41",
        "Colour negative",
        DensityStatus.M,
        [new SheetLayout("wedge", "Wedge", [.. Steps.Select(s => new LayoutPatch(new Patch(s.Key, s.Key.ToUpperInvariant()), s.LogH))])],
        Parameters);

    internal ImmutableArray<StripRecord> Strips { get; } = MakeStrips();

    internal InMemory Program => _program;

    /// <summary>The lines of a parameter: which, whether its limits are its own, and the zone that every strip must have there.</summary>
    internal static IEnumerable<(Channel? Channel, bool IsOwn, Zone Zone)> Expected(Parameter parameter) => parameter.Lines.Select(l =>
        l is { } c && parameter.ChannelLimits.ContainsKey(c) ? (l, true, Zone.Inside) : (l, false, Zone.Out));

    public async ValueTask InitializeAsync() => await FillAsync(_program.Folder);

    public ValueTask DisposeAsync()
    {
        _program.Dispose();
        return ValueTask.CompletedTask;
    }

    private async Task FillAsync(string folder)
    {
        await WriteSheetAsync(folder);
        await using var store = await EmptyStore.OpenAsync(folder, TimeProvider.System, TestContext.Current.CancellationToken);
        await store.AddLotAsync(new StripLot("2417", "c41", Sheet.Layout), TestContext.Current.CancellationToken);
        foreach (var strip in Strips)
        {
            await store.AddStripAsync(strip, TestContext.Current.CancellationToken);
        }

        await store.AddBookEntriesAsync([.. Books()], TestContext.Current.CancellationToken);
    }

    internal static async Task WriteSheetAsync(string folder)
    {
        var file = Path.Combine(Acquire.Bench.Files.DataFolder.Processes(folder), "c41.json");
        Directory.CreateDirectory(Path.GetDirectoryName(file)!);
        await File.WriteAllTextAsync(file, ProcessSheetWriter.Write(Sheet), TestContext.Current.CancellationToken);
    }

    private static T Own<T>(T parameter, Channel channel)
        where T : Parameter => parameter with
        {
            ChannelLimits = parameter.ChannelLimits.Add(channel, new ParameterLimits(new Limit(-Wide, Wide, OwnSource), null)),
        };

    private static IEnumerable<BookEntry> Books()
    {
        var tank = new ProcessLine(Stamp(-1), "dip tank", LineKind.DipTank, "c41");
        yield return tank;
        for (var i = 0; i < 2; i++)
        {
            var mix = new Solution(Stamp(i * 24), $"dev{i}", SolutionKind.Developer, "c41", 1);
            yield return mix;
            yield return new Bottle(Stamp((i * 24) + 0.01), $"D{i}", mix.Id, 1, new BottleStorage("glass", 1));
        }
    }

    private static EntryStamp Stamp(double day) =>
        new(Guid.CreateVersion7(Start.AddDays(day)), Start.AddDays(day), Start.AddDays(day), "darkroom staff");

    private static ImmutableArray<StripRecord> MakeStrips()
    {
        var random = new Random(5);
        return [.. from bottle in Enumerable.Range(0, 2) from age in new[] { 1, 5, 9, 13, 17, 21 } select Strip(bottle, age, random)];
    }

    private static StripRecord Strip(int bottle, int age, Random random)
    {
        var at = Start.AddDays((bottle * 24) + age);
        ImmutableArray<PatchReads> patches =
        [
            .. Steps.Select(s => new PatchReads(
                Sheet.Layout.GetByKey(s.Key),
                [.. Enumerable.Range(0, 2)
                    .Select(_ => new PatchRead(Reading.Entered(ChannelDensities.Rgb(Shown(s, 0), Shown(s, 1), Shown(s, 2)), at)))])),
        ];
        return new StripRecord(
            Guid.CreateVersion7(at),
            "2417",
            Sheet.Layout,
            Sheet,
            patches,
            PatchMeans.Of(patches),
            [.. from s in Steps from c in Channels.Colours select new Aim(s.Key, c, Density(s.LogH, (int)c, 0, 0), 0, 0.002)],
            new Provenance(at, "darkroom staff", null),
            Revision.First("darkroom staff", at, "read"))
        {
            Tags = new StripTags { Line = "dip tank", Bottle = $"D{bottle}" },
        };

        // Faster and softer than aim, the softer the older the developer, and not alike in the colours.
        decimal Shown((string Key, double? LogH) step, int colour) => Math.Round(
            (decimal)(Density(step.LogH, colour, 0.06 * (1 + (0.3 * colour)), (-0.03 - (0.001 * age)) * (1 + (0.3 * colour)))
                + (0.002 * (random.NextDouble() - 0.5))), 3) + 0.000m;
    }

    private static double Density(double? logH, int colour, double lift, double softer) =>
        0.26 + (0.3 * colour) + (logH is { } h ? 0.05 + lift + ((0.55 + softer) * (h - 0.2)) : 0);
}
