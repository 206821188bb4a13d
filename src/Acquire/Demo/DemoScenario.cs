using Acquire.Instruments.Simulation;

namespace Acquire.Demo;

/// <summary>
/// The invented scenario of the demo: a community college's darkroom with a dip tank for the evening class and a bench-top machine
/// for staff. Nobody's real numbers.
/// </summary>
internal static class DemoScenario
{
    public const string Profile = "labelled-line";
    public const string LotCode = "2417";
    public const int Reads = 3;
    public const string Reader = "darkroom staff";

    /// <summary>Determines the scatter of the strips, so that the demo is the same each time.</summary>
    public const int Seed = 3;

    /// <summary>The strips in the order in which they are read: one fine, one in the action zone, one out.</summary>
    public static IReadOnlyList<DemoStrip> Strips { get; } =
    [
        new(FilmStories.OnAim, "dip tank", "D7", "start of the evening class, fresh developer"),
        new(FilmStories.HalfFullBottle, "dip tank", "D5", "developer that stood 22 days in a half-full bottle"),
        new(FilmStories.FixerInDeveloper, "bench-top", "B2", "first run after the racks were swapped"),
    ];

    /// <summary>The lot with the correction factors of its sheet.</summary>
    public static StripLot Lot(ProcessSheet sheet) => new(
        LotCode,
        sheet.Key,
        sheet.Layout,
        [
            .. from patch in DemoFilm.Corrections
               from factor in new[] { (Channel.Red, patch.Value.Red), (Channel.Green, patch.Value.Green), (Channel.Blue, patch.Value.Blue) }
               where factor.Item2 != 0
               select new CorrectionFactor(patch.Key, factor.Item1, factor.Item2),
        ],
        new DateOnly(2027, 6, 30),
        "in the cold as the sheet in the box says; warm up closed");
}

/// <param name="Bottle">The developer it ran in.</param>
/// <param name="Note">What the log says.</param>
internal sealed record DemoStrip(FilmStory Story, string Line, string Bottle, string Note);
