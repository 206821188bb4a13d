namespace Acquire.Storage.Tests.Support;

/// <summary>
/// Values for tests that do not care which. The scene: a college darkroom with a dip tank for the evening class. Invented numbers.
/// </summary>
internal static class Some
{
    public static readonly DateTimeOffset Evening = new(2026, 3, 12, 19, 30, 0, TimeSpan.FromHours(1));

    public static readonly StripLayout Layout = new("negative strip", [new("dmin", "D-min"), new("ld", "LD"), new("hd", "HD")]);

    public static readonly ProcessSheet Sheet = new(
        "c41",
        "Colour negative",
        DensityStatus.M,
        Layout,
        [
            new PatchParameter("speed", "LD", "speed", "ld", Channels.Colours, TwoSided(0.06, 0.08)),
            new DifferenceParameter("contrast", "HD − LD", "contrast", "hd", "ld", Channels.Colours, TwoSided(0.07, 0.09)),
            new SpreadParameter(
                "contrast-spread", "HD − LD spread", "colour balance", "contrast", new(null, new Limit(null, 0.09, "sheet in the box"))),
        ],
        "invented");

    /// <summary>The same, LD with limits of its own in blue.</summary>
    public static readonly ProcessSheet SheetWithOwnLimits = new(
        Sheet.Key,
        Sheet.Name,
        Sheet.Status,
        Layout,
        [
            Sheet.Parameters[0] with { ChannelLimits =
                Sheet.Parameters[0].ChannelLimits.Add(Channel.Blue, new(new Limit(-0.03, 0.12, "our own"), null)) },
            .. Sheet.Parameters.Skip(1),
        ]);

    public static readonly StripLot Lot = new(
        "A1207",
        "c41",
        Layout,
        [new CorrectionFactor("hd", Channel.Blue, -0.01), new CorrectionFactor("ld", Channel.Red, 0.02)],
        new DateOnly(2026, 12, 31),
        "below 13 °C, -18 °C for long",
        "shelf 2");

    public static readonly InstrumentInUse Instrument = new("labelled-channels", new string('a', 64), "serial:/dev/serial/by-id/desk")
    {
        Name = "bench",
    };

    /// <summary>An instrument of which all is said.</summary>
    public static Instrument Bench => new("bench", "labelled-channels", Domain.Revision.First("staff", Evening, "added"))
    {
        Port = "/dev/serial/by-id/desk",
        Baud = 1200,
        DisplayStep = 0.01,
        Filters = "status M",
        SerialNumber = "17",
        Notes = "beside the dip tank",
        RetiredAt = Evening,
    };

    public static Provenance Provenance(DateTimeOffset? at = null) => new(at ?? Evening, "Ines, evening class", Instrument);

    public static BenchSession Session() => new(Guid.CreateVersion7(Evening), SessionKind.Strip, Lot.Code, 2, Provenance());

    public static SessionPlan SessionPlan() => new(
        SessionPurpose.Strip,
        Layout, 1, Channels.Colours, new ProfileText("labelled-channels", new string('a', 64), "{ \"name\": … }"), 9600)
    {
        Sheet = Sheet,
        CheckLacking = "no check yet",
        Tags = StripTags.Of(name => $"{name}, said before it was read"),
    };

    public static JournalEntry Chunk(int sequence, string text = "R 0.26 G 0.62 B 0.80\r\n") =>
        new(
            sequence,
            Evening.AddSeconds(sequence).AddTicks(sequence),
            JournalEvent.Received) { Bytes = [.. System.Text.Encoding.Latin1.GetBytes(text)] };

    public static ReceivedLine Line(int sequence, string text = "R 0.26 G 0.62 B 0.80", LineMeaning meaning = LineMeaning.Reading) =>
        new(sequence, RawLine.OfText(text, Evening.AddSeconds(sequence)), meaning);

    public static PatchRead Read(decimal red, decimal green, decimal blue, int second = 1) => new(new Reading(
        ChannelDensities.Rgb(red, green, blue),
        Evening.AddSeconds(second),
        [RawLine.OfText(FormattableString.Invariant($"R {red} G {green} B {blue}"), Evening.AddSeconds(second))]));

    public static ImmutableArray<PatchReads> Patches() =>
    [
        new(Layout.Patches[0], [Read(0.260m, 0.620m, 0.800m), Read(0.26m, 0.63m, 0.80m, 2)]),
        new(Layout.Patches[1], [
            Read(0.70m, 1.10m, 1.40m, 3) with { Exclusion = new Exclusion("slipped", Evening.AddMinutes(1)) },
            Read(0.71m, 1.11m, 1.42m, 4)]),
        new(Layout.Patches[2], [Read(1.30m, 1.80m, 2.10m, 5)], new Exclusion("scratch, see =note", Evening.AddMinutes(2))),
    ];

    public static StripLot OtherLot(string code) => new(code, Lot.ProcessKey, Layout);

    public static AimAdjustment Adjustment(string lot, Guid reference, params StripPair[] pairs) => new(
        Guid.CreateVersion7(Evening),
        lot,
        reference,
        Lot.Code,
        [new AdjustedAim("ld", Channel.Red, 0.04, 0.011), new AdjustedAim("hd", Channel.Blue, -0.05, 0.012)],
        [.. pairs],
        "Ines",
        Evening,
        "three pairs agree");

    public static LotReference Reference(Guid? id = null, int revision = 1, string? lot = null, Guid? session = null) => new(
        id ?? Guid.CreateVersion7(Evening),
        lot ?? Lot.Code, Patches(), Provenance(), new Revision(revision, "Ines", Evening, "read"), session);

    public static StripRecord Strip(
        Guid? id = null,
        int revision = 1,
        string? lot = null,
        DateTimeOffset? at = null,
        string? line = "dip tank",
        ProcessSheet? judgedBy = null) => new(
        id ?? Guid.CreateVersion7(Evening),
        lot ?? Lot.Code,
        Layout,
        judgedBy ?? Sheet,
        Patches(),
        PatchMeans.Of(Patches()),
        [new Aim("dmin", Channel.Red, 0.25, 0, 0.004), new Aim("ld", Channel.Red, 0.70, 0.02, 0.004)],
        Provenance(at),
        new Revision(revision, "Ines", Evening, revision == 1 ? "read" : "wrong bottle named"))
    {
        Tags = new StripTags { Line = line, Bottle = "dev 3, half full", Note = "first after new mix" },
    };

    public static readonly ImmutableArray<StripQuestion> Questions =
    [
        new("wrong_end", "Read from the wrong end?", "give the reads to the patches in reverse order", 12.5, Evening.AddSeconds(6))
        {
            Answer = QuestionAnswer.Accepted,
            AnsweredAt = Evening.AddSeconds(9),
        },
        new("double_trigger", "Triggered twice?", "leave out read 2 of LD", 8, Evening.AddSeconds(7)),
    ];

    public static readonly Plaque Plaque = new(
        "bench plaque",
        [
            new PlaquePatch(Layout.Patches[0], ChannelDensities.Rgb(0.05m, 0.060m, 0.07m), 0.01),
            new PlaquePatch(Layout.Patches[1], ChannelDensities.Rgb(1.02m, 1.05m, 1.10m), 0.01),
            new PlaquePatch(Layout.Patches[2], ChannelDensities.Rgb(2.95m, 3.01m, 3.05m), 0.015),
        ],
        0.02,
        30,
        new DateOnly(2027, 6, 30),
        "in the drawer");

    public static CalibrationCheck Check(DateTimeOffset? at = null, bool passed = true, Guid? session = null) =>
        new(Guid.CreateVersion7(Evening), Plaque, Patches(), passed, Provenance(at), session);

    public static RepeatabilityTest Test(Guid? session = null) =>
        new(Guid.CreateVersion7(Evening), Patches(), 2, 0.010, passed: false, Provenance(), session);

    public static ReferenceRecheck Recheck(DateTimeOffset? at = null, Guid? session = null) =>
        new(Guid.CreateVersion7(Evening), Lot.Code, Patches(), Provenance(at), session);

    private static ParameterLimits TwoSided(double action, double control) =>
        new(new Limit(-action, action, "sheet in the box"), new Limit(-control, control, "sheet in the box"));
}
