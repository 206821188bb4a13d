using Acquire.Formats.Strips;

namespace Acquire.Storage.Import;

/// <summary>Whether two records say the same, and where they first differ.</summary>
internal static class StripContent
{
    /// <summary>The first difference in words; null when there is none.</summary>
    public static string? Difference(StripRecord stored, StripRecord given, bool whole) =>
        Lines(stored).Zip(Lines(given), (s, g) => (s, g)).Where(p => p.s != p.g).Select(p => Words(p.s, p.g)).FirstOrDefault()
        ?? (Lines(stored).Count() != Lines(given).Count() ? "the store has other reads than the file" : null)
        ?? (whole && StripJsonLines.Line(stored) != StripJsonLines.Line(given)
            ? "the records differ in something beside their reads, such as aims, note or raw lines"
            : null);

    private static IEnumerable<(string What, string Value)> Lines(StripRecord strip) =>
    [
        ("time", Sql.Time(strip.Provenance.At)),
        ("lot", strip.LotCode.ToUpperInvariant()),
        .. StripTags.Texts.Where(t => t.IsPlace).Select(t => (t.Name, t.Of(strip.Tags) ?? "")),
        .. strip.Patches.SelectMany(Reads),
    ];

    private static IEnumerable<(string What, string Value)> Reads(PatchReads patch) => patch.Reads.Select((read, i) => (
        $"{patch.Patch.Key} read {i + 1}",
        read.Reading.Densities + (read.Counts && patch.LeftOut is null ? "" : " (does not count)")));

    private static string Words((string What, string Value) stored, (string What, string Value) given) => stored.What == given.What
        ? $"{stored.What} is {Quoted(stored.Value)} in the store, {Quoted(given.Value)} in the file"
        : $"the store has {stored.What} ({stored.Value}) where the file has {given.What} ({given.Value})";

    private static string Quoted(string value) => value.Length == 0 ? "empty" : FilePlace.Shown(value);

}
