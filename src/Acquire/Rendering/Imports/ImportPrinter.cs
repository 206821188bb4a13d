using Acquire.Bench.Import;
using Acquire.Formats.Tables;
using Acquire.Storage.Import;

namespace Acquire.Rendering.Imports;

/// <summary>Shows an import while it runs: with a dry run every strip, otherwise what needs an eye.</summary>
internal sealed class ImportPrinter(Surroundings surroundings, bool all) : IImportListener
{
    private const int MostNotes = 20;

    private int _notes;
    private int _conflicts;

    public void Note(FilePlace spot, string text)
    {
        if (++_notes <= MostNotes)
        {
            surroundings.Error.Line($"line {spot.Line}: {text}");
        }
    }

    public void Entry(ImportedEntry entry)
    {
        if (all)
        {
            surroundings.Out.Line(Line(entry));
        }
        else if (entry.Fate == ImportFate.Conflict && ++_conflicts <= MostNotes)
        {
            surroundings.Error.Line(Line(entry));
        }
    }

    public async Task<DateStyle?> AskAsync(FilePlace spot, DateVerdict dates, CancellationToken cancellationToken)
    {
        if (!surroundings.HasKeyboard)
        {
            return null;
        }

        surroundings.Error.Line($"line {spot.Line}: '{dates.Text}' can be read in more than one way, and no other date tells which:");
        foreach (var (index, (_, reading)) in dates.Readings.Index())
        {
            surroundings.Error.Line($"  {index + 1}  {reading}");
        }

        surroundings.Error.Line("Which is it? Type the number; nothing ends without importing.");
        var answer = await surroundings.Input.ReadLineAsync(cancellationToken);
        return int.TryParse(answer, NumberStyles.None, CultureInfo.InvariantCulture, out var chosen) && chosen >= 1
            && chosen <= dates.Readings.Count
            ? dates.Readings[chosen - 1].Style
            : null;
    }

    public void Finish(ImportReport report, bool json)
    {
        if (_notes > MostNotes)
        {
            surroundings.Error.Line($"… and {_notes - MostNotes} more such notes.");
        }

        Ask(report.Questions);
        if (json)
        {
            JsonOutput.Write(surroundings.Out, ImportJson.Of(report, _notes));
            return;
        }

        foreach (var lot in report.Lots)
        {
            surroundings.Out.Line($"Lot {lot} {(report.Written ? "added" : "would be added")}.");
        }

        var would = report.Written ? "" : "would be ";
        string?[] parts =
        [
            $"{Numbers.Count(report.Count(ImportFate.Added), "strip")} {would}added with "
            + $"{report.Reads.ToString(CultureInfo.InvariantCulture)} read{(report.Reads == 1 ? "" : "s")}",
            Part(ImportFate.Revised, $"{would}revised"),
            Part(ImportFate.AlreadyThere, "there already"),
            Part(ImportFate.Repeated, "twice in the file"),
            Part(ImportFate.Conflict, "stored with other values"),
        ];
        surroundings.Out.Line(string.Join(", ", parts.Where(p => p is not null)) + ".");
        if (report.Count(ImportFate.Conflict) > 0)
        {
            surroundings.Error.Line(report.Written
                ? "What is stored with other values stayed as it is."
                : "Nothing was written. Mend the file, "
                    + "or give --skip-conflicts to leave those strips as they are stored and import the rest.");
        }
        else if (!report.Written)
        {
            surroundings.Error.Line("Nothing was written.");
        }

        string? Part(ImportFate fate, string words) => report.Count(fate) is > 0 and var count ? $"{count} {words}" : null;
    }

    private void Ask(ImmutableArray<ImportQuestion> questions)
    {
        foreach (var (entry, asked) in questions.Take(all ? questions.Length : MostNotes))
        {
            surroundings.Error.Line($"line {entry.Spot.Line}: strip {ImportJson.Name(entry)}: {asked.Question}");
        }

        if (!all && questions.Length > MostNotes)
        {
            surroundings.Error.Line($"… and {questions.Length - MostNotes} more such questions; --dry-run or --json shows all.");
        }

        if (!questions.IsEmpty)
        {
            surroundings.Error.Line("Worth a look in file and notebook; nothing was changed for it.");
        }
    }

    private string Line(ImportedEntry entry)
    {
        var strip = entry.Strip;
        var name = ImportJson.Name(entry);
        var where = string.Join(", ", new[] {
            $"lot {strip.LotCode}",
            strip.Tags.Line,
            strip.Tags.Bottle is { } bottle ? $"bottle {bottle}" : null }.Where(p => !string.IsNullOrEmpty(p)));
        var (sign, words) = entry.Fate switch
        {
            ImportFate.Added => ("+",
                $"{Patches(strip.Patches.Count(p => !p.Reads.IsEmpty))}, {Numbers.Count(strip.Patches.Sum(p => p.Reads.Length), "read")}"),
            ImportFate.Revised => ("+", $"revision {strip.Revision.Number}"),
            ImportFate.AlreadyThere => ("=", "there already"),
            ImportFate.Repeated => ("=", "twice in the file"),
            _ => ("!", entry.Difference ?? ""),
        };
        return $"{sign} line {entry.Spot.Line}: strip {name}, {Numbers.Moment(strip.Provenance.At, surroundings.Time)}, {where}: {words}";
    }

    private static string Patches(int count) => string.Create(CultureInfo.InvariantCulture, $"{count} patch{(count == 1 ? "" : "es")}");
}
