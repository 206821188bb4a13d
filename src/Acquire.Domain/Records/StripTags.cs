namespace Acquire.Domain.Records;

/// <summary>What the user says of a strip beside its readings: where it ran, how it was handled, and which other strip it goes with. Plan,
/// record, tables, files, exports, amendments and options all take it from here. A new text is a property with its row in
/// <see cref="Texts"/>, a column, and a name in the JSON.</summary>
public sealed record StripTags
{
    /// <summary>Nothing said.</summary>
    public static StripTags None { get; } = new();

    /// <summary>All that is plain text, in the order in which records and files have it.</summary>
    public static ImmutableArray<TextTag> Texts { get; } =
    [
        new("line", "The process line the strip ran in", t => t.Line, (t, text) => t with { Line = text })
        {
            IsPlace = true,
            Keyword = "PROCESS_LINE",
        },
        new("bottle", "The bottle of developer the strip ran in", t => t.Bottle, (t, text) => t with { Bottle = text })
        {
            IsPlace = true,
            Keyword = "BOTTLE",
        },
        new("note", "A note to keep with the strip", t => t.Note, (t, text) => t with { Note = text }) { Keyword = "NOTE" },
        new(
            "handling",
            "How the strip was handled: warm-up of the pack, place on the reel, temperatures at start and end",
            t => t.Handling,
            (t, text) => t with { Handling = text }),
    ];

    /// <summary>The texts that tables have: exports of reads and parameters, CGATS files, workbooks, and imports of them.</summary>
    public static ImmutableArray<TextTag> InTables { get; } = [.. Texts.Where(t => t.Keyword is not null)];

    /// <summary>The process line the strip ran in, in the user's word.</summary>
    public string? Line { get; init; }

    /// <summary>The bottle of developer it ran in, in the user's word.</summary>
    public string? Bottle { get; init; }

    public string? Note { get; init; }

    /// <summary>How the strip was handled, in the user's words.</summary>
    public string? Handling { get; init; }

    /// <summary>The strip that this second strip was run to confirm; null when it confirms none.</summary>
    public Guid? Confirms { get; init; }

    /// <summary>The earlier reading, where this is the very same strip again; null otherwise.</summary>
    public Reread? Reread { get; init; }

    /// <summary>The strip of another lot that was processed together with this one, for a crossover; null when there is none.</summary>
    public Guid? PairedWith { get; init; }

    /// <summary>Each other strip that is named, with what this one does to it, in words.</summary>
    public IEnumerable<(Guid Strip, string How)> Others =>
        new[] { (Confirms, "confirms"), (Reread?.Of, "is read again"), (PairedWith, "is paired with") }
        .Where(o => o.Item1 is not null).Select(o => (o.Item1!.Value, o.Item2));

    /// <summary>Makes tags of texts that are found by their names.</summary>
    public static StripTags Of(Func<string, string?> text) => Texts.Aggregate(None, (tags, t) => t.With(tags, text(t.Name)));
}

/// <summary>One text that can be said of a strip.</summary>
/// <param name="Name">Its name as a column, in JSON, in CSV and as an option.</param>
/// <param name="Says">What it says, in a sentence without its full stop.</param>
/// <param name="Of">Gives the text; null where nothing was said.</param>
/// <param name="With">Tags with the text in its place.</param>
public sealed record TextTag(string Name, string Says, Func<StripTags, string?> Of, Func<StripTags, string?, StripTags> With)
{
    /// <summary>Whether it names where the strip ran. A second strip ran there too unless it is said
    /// otherwise, and an import tells strips apart by it.</summary>
    public bool IsPlace { get; init; }

    /// <summary>Its keyword in CGATS files; null where only whole records carry the text, and no table does.</summary>
    public string? Keyword { get; init; }
}

/// <summary>A strip that was read before.</summary>
/// <param name="Of">Id of the earlier record.</param>
/// <param name="After">What was done to the strip since.</param>
public sealed record Reread(Guid Of, Treatment After)
{
    /// <summary>Joins what columns and files hold apart; null when they hold neither.</summary>
    /// <exception cref="ImpossibleValueException">One is there without the other.</exception>
    public static Reread? Join(Guid? of, Treatment? after) => (of, after) switch
    {
        (null, null) => null,
        ({ } earlier, { } done) => new Reread(earlier, done),
        _ => throw new ImpossibleValueException("A strip read again needs both the earlier record and what was done before."),
    };
}

/// <summary>What was done to a strip before it was read again.</summary>
public enum Treatment
{
    /// <summary>Nothing; the reading itself was in doubt.</summary>
    None,

    /// <summary>It was bleached again, and fixed and washed after it.</summary>
    ReBleach,

    /// <summary>It was fixed again, and washed after it.</summary>
    ReFix,

    ReWash,

    /// <summary>It was left to dry completely.</summary>
    Drying,
}

/// <summary>The words of treatments, as commands and exports have them.</summary>
public static class Treatments
{
    /// <summary>The word, such as <c>re-bleach</c>.</summary>
    public static string Word(this Treatment treatment) => treatment switch
    {
        Treatment.None => "none",
        Treatment.ReBleach => "re-bleach",
        Treatment.ReFix => "re-fix",
        Treatment.ReWash => "re-wash",
        Treatment.Drying => "drying",
        _ => throw new ImpossibleValueException($"{treatment} is no treatment."),
    };

    /// <summary>Finds a treatment by its word, in any case; null when there is none.</summary>
    public static Treatment? Parse(string word) =>
        Enum.GetValues<Treatment>().Cast<Treatment?>().FirstOrDefault(t => Keys.Same(t!.Value.Word(), word));
}
