namespace Acquire.Bench.Strips;

/// <summary>Something that a revision changed.</summary>
/// <param name="Field">What, in words, such as <c>line</c> or <c>hd read 2</c>.</param>
/// <param name="Before">What it was; null when there was nothing.</param>
/// <param name="After">What it is; null when there is nothing.</param>
public sealed record FieldChange(string Field, string? Before, string? After);

/// <summary>What differs between two revisions of one strip.</summary>
public static class RevisionChanges
{
    /// <summary>Field by field, in the order of the record; who, when and why are not among them. Empty when nothing differs.</summary>
    public static ImmutableArray<FieldChange> Between(StripRecord before, StripRecord after)
    {
        ArgumentNullException.ThrowIfNull(before);
        ArgumentNullException.ThrowIfNull(after);
        return [.. Texts(before).Zip(Texts(after), (b, a) => new FieldChange(b.Field, b.Text, a.Text))
            .Concat(Reads(before, after))
            .Concat(Numbers("mean", Means(before), Means(after)))
            .Concat(Numbers("aim", Aims(before), Aims(after)))
            .Where(c => c.Before != c.After)];
    }

    private static IEnumerable<(string Field, string? Text)> Texts(StripRecord strip) =>
    [
        ("lot", strip.LotCode),
        .. StripTags.Texts.Select(t => (t.Name, t.Of(strip.Tags))),
        ("confirms", Short(strip.Tags.Confirms)),
        ("read again", Short(strip.Tags.Reread?.Of)),
        ("after", strip.Tags.Reread?.After.Word()),
        ("pair", Short(strip.Tags.PairedWith)),
        ("reference", Short(strip.ReferenceId)),
        ("calibration check", Short(strip.CheckId)),
        ("check lacking", strip.CheckLacking),
        ("process sheet", strip.JudgedBy.Name),
        ("layout", strip.Layout.Name),
    ];

    private static IEnumerable<FieldChange> Reads(StripRecord before, StripRecord after) =>
        before.Patches.Zip(after.Patches).SelectMany(p =>
            p.First.Reads.Zip(p.Second.Reads, (b, a) => (b, a))
                .Select((read, i) => new FieldChange(
                    string.Create(CultureInfo.InvariantCulture, $"{p.First.Patch.Key} read {i + 1}"),
                    Counts(read.b.Exclusion), Counts(read.a.Exclusion)))
                .Prepend(new FieldChange(p.First.Patch.Key, Counts(p.First.LeftOut), Counts(p.Second.LeftOut))));

    private static IEnumerable<FieldChange> Numbers(string what, Dictionary<string, string> before, Dictionary<string, string> after) =>
        before.Keys.Union(after.Keys).Select(k => new FieldChange($"{what} {k}", before.GetValueOrDefault(k), after.GetValueOrDefault(k)));

    private static Dictionary<string, string> Means(StripRecord strip) => strip.Means.ToDictionary(
        m => $"{m.PatchKey.ToLowerInvariant()} {m.Channel.Word()}", m => Density(m.Mean));

    private static Dictionary<string, string> Aims(StripRecord strip) => strip.Aims.ToDictionary(
        a => $"{a.PatchKey.ToLowerInvariant()} {a.Channel.Word()}", a => Density(a.Value));

    private static string Counts(Exclusion? exclusion) => exclusion is null ? "counts" : $"left out: {exclusion.Reason}";

    private static string? Short(Guid? id) => id is { } given ? StripId.ShortForm(given) : null;

    private static string Density(double value) => value.ToString("0.0000", CultureInfo.InvariantCulture);
}
