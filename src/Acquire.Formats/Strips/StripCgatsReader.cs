using System.Runtime.CompilerServices;
using Acquire.Formats.Cgats;

namespace Acquire.Formats.Strips;

/// <summary>
/// Reads strips from CGATS.17 / ISO 28178 text: each table a strip, each set a read, the patch by SAMPLE_NAME, or SAMPLE_ID where there is
/// none. What this program writes beside the densities comes back; a file from elsewhere needs no more than a date, a lot and densities.
/// </summary>
public static class StripCgatsReader
{
    /// <summary>Gives the strips one by one.</summary>
    /// <param name="choices">What holds where the file does not say.</param>
    /// <exception cref="ImportException">The file cannot be read; the message says file and line.</exception>
    /// <exception cref="IOException">The file cannot be opened.</exception>
    public static async IAsyncEnumerable<ImportedStrip> ReadAsync(
        string file, CgatsChoices choices, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        await foreach (var table in CgatsReader.ReadAsync(file, cancellationToken))
        {
            yield return Strip(table, new FilePlace(file, table.Line), choices);
        }
    }

    private static ImportedStrip Strip(CgatsTable table, FilePlace spot, CgatsChoices choices)
    {
        // Only this program's text is escaped, and only its STRING fields have a meaning; elsewhere a backslash is a backslash.
        var own = table["ORIGINATOR"] == StripCgats.Originator && table["STRIP_ID"] is not null;
        var (at, note) = Created(table["CREATED"], spot, choices);
        var instrument = Word("INSTRUMENTATION") is { } profile && Word("PROFILE_HASH") is { } hash && Word("PORT") is { } port
            ? new InstrumentInUse(profile, hash, port) { Name = Word("INSTRUMENT_NAME") ?? profile }
            : null;
        return new ImportedStrip
        {
            Spot = spot,
            Name = Word("STRIP_ID"),
            Revision = Revision(Word("STRIP_REVISION"), spot),
            At = at,
            Lot = Word("LOT_CODE") ?? Word("STRIP_CODE") ?? "",
            Process = Word("PROCESS"),
            Status = Status(table["WEIGHTING_FUNCTION"], spot),
            Tags = StripTags.InTables.Aggregate(StripTags.None, (tags, t) => t.With(tags, Word(t.Keyword!))),
            By = Word("READ_BY"),
            Instrument = instrument,
            Patches = Patches(table, spot, at, own, choices),
            Notes = note is null ? [] : [note],
        };

        string? Word(string keyword) => table[keyword] is { Length: > 0 } value ? own ? EscapedText.Back(value) : value : null;
    }

    private static (DateTimeOffset At, string? Note) Created(string? text, FilePlace spot, CgatsChoices choices)
    {
        if (choices.ProcessedAt is { } given)
        {
            return (given, null);
        }

        if (text is null)
        {
            throw spot.Wrong("the table has no CREATED, so nothing says when the strip was processed; give --processed-at");
        }

        var styles = choices.Dates is { } only ? [only] : DateText.Styles(text).ToList();
        var readings = styles.Select(s => DateText.Parse(text, s)).Where(r => r is not null).Distinct().ToList();
        return readings switch
        {
            [var one] => new LocalClock(choices.Zone).At(one!),
            [] => throw spot.Wrong($"CREATED is '{FilePlace.Shown(text)}'; expected a date such as 2026-03-04, or give --processed-at"),
            _ => throw spot.Wrong(
                $"CREATED is '{FilePlace.Shown(text)}', which can be "
                + string.Join(" or ", readings.Select(r => r!.Clock.ToString("d MMMM yyyy", CultureInfo.InvariantCulture)))
                    + "; give --dates dmy, mdy or ymd"),
        };
    }

    private static int? Revision(string? text, FilePlace spot) => text is null ? null
        : int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number > 0 ? number
        : throw spot.Wrong($"STRIP_REVISION is '{FilePlace.Shown(text)}'; expected a whole number from 1");

    /// <summary>
    /// The status of <c>DENSITY_STATUS,M</c> in WEIGHTING_FUNCTION, where the standard puts it; null where it says something else.
    /// </summary>
    private static DensityStatus? Status(string? weighting, FilePlace spot)
    {
        var parts = (weighting ?? "").Split([',', ' '], StringSplitOptions.RemoveEmptyEntries);
        var at = Array.FindIndex(parts, p => string.Equals(p, "DENSITY_STATUS", StringComparison.OrdinalIgnoreCase));
        return at < 0 || at + 1 >= parts.Length ? null
            : Enum.TryParse<DensityStatus>(parts[at + 1], ignoreCase: true, out var status) && Enum.IsDefined(status) ? status
            : throw spot.Wrong(
                $"the density status is '{FilePlace.Shown(parts[at + 1])}'; expected {string.Join(", ", Enum.GetNames<DensityStatus>())}");
    }

    private static ImmutableArray<ImportedPatch> Patches(
        CgatsTable table, FilePlace spot, DateTimeOffset at, bool own, CgatsChoices choices)
    {
        var channels = StripCgats.Fields
            .Select(f => (f.Channel, f.Field, Places: table.Places(f.Field == "D_VIS" ? [f.Field, "D_VISUAL"] : [f.Field])))
            .Where(c => !c.Places.IsEmpty).ToList();
        if (channels.Count == 0)
        {
            throw spot.Wrong(
                $"the table has no densities; expected D_RED, D_GREEN, D_BLUE or D_VIS among {string.Join(", ", table.Fields)}");
        }

        if (channels.FirstOrDefault(c => c.Places.Length > 1) is { Field: { } twice })
        {
            throw spot.Wrong($"the table has {twice} twice; expected one column");
        }

        var name = table.Places("SAMPLE_NAME") is [var named, ..] ? named
            : table.Places("SAMPLE_ID", "SAMPLEID", "SAMPLE") is [var id, ..] ? id
            : throw spot.Wrong("the table has neither SAMPLE_NAME nor SAMPLE_ID, so nothing says which patch a row is of");
        var strings = own ? table.Places("STRING") : [];
        var rows = table.Sets.Select(set => (
            Patch: choices.Patch(own ? EscapedText.Back(set.Values[name]) : set.Values[name]),
            set.Line,
            Densities: Densities(set, channels.Select(c => (c.Channel, c.Field, c.Places[0])), spot),
            At: strings is [var time, _] ? set.Values[time] : "",
            Remark: strings is [_, var remark] ? EscapedText.Back(set.Values[remark]) : ""));
        return [.. rows.GroupBy(r => r.Patch, StringComparer.OrdinalIgnoreCase).Select(g => new ImportedPatch(
            g.Key,
            g.First().Line,
            [.. g.Where(r => r.Densities is not null).Select(r => new PatchRead(
                Reading.Entered(r.Densities!, r.At.Length > 0 ? Time(r.At, spot with { Line = r.Line }) : at),
                Exclusion(StripCgats.ExcludedWord, r.Remark, spot with { Line = r.Line })))],
            g.Select(r => Exclusion(StripCgats.LeftOutWord, r.Remark, spot with { Line = r.Line })).FirstOrDefault(e => e is not null)))];
    }

    private static ChannelDensities? Densities(
        CgatsSet set, IEnumerable<(Channel Channel, string Field, int Place)> channels, FilePlace spot)
    {
        var values = channels.Where(c => set.Values[c.Place].Length > 0).Select(c => KeyValuePair.Create(
            c.Channel,
            DensityText.TryRead(set.Values[c.Place], out var density) ? density : throw (spot with { Line = set.Line }).Wrong(
                $"{c.Field} is '{FilePlace.Shown(set.Values[c.Place])}'; expected a density such as 0.26, or \"\" for none"))).ToList();
        return values.Count == 0 ? null : ChannelDensities.Of(values);
    }

    private static Exclusion? Exclusion(string word, string remark, FilePlace spot) =>
        remark.StartsWith(word, StringComparison.Ordinal) && remark[word.Length..].Split(' ', 2) is [var at, var reason]
            ? new Exclusion(reason, Time(at, spot))
            : null;

    private static DateTimeOffset Time(string text, FilePlace spot)
    {
        try
        {
            return Written.Time(text);
        }
        catch (FormatException e)
        {
            throw spot.Wrong($"'{FilePlace.Shown(text)}' is no time; expected one such as 2026-03-12T18:30:00.0000000+00:00", e);
        }
    }
}

/// <summary>What holds where a CGATS file does not say.</summary>
/// <param name="Zone">Time zone of dates without an offset.</param>
/// <param name="Dates">The order of the numbers in dates; null to see it from each.</param>
/// <param name="ProcessedAt">When the strips were processed; null to take it from the file.</param>
/// <param name="Patches">The file's words for patches, where they are other than key or name.</param>
public sealed record CgatsChoices(
    TimeZoneInfo Zone, DateStyle? Dates, DateTimeOffset? ProcessedAt, IReadOnlyDictionary<string, string> Patches)
{
    /// <summary>The patch in the sheet's word.</summary>
    public string Patch(string word) =>
        Patches.FirstOrDefault(p => string.Equals(p.Key, word, StringComparison.OrdinalIgnoreCase)).Value ?? word;
}
