using System.Text;
using Acquire.Bench.Guidance;
using Acquire.Storage.Files;

namespace Acquire.Bench.Sessions;

/// <summary>A session that has ended or was broken off.</summary>
/// <param name="Rescue">What was saved outside the store because the store failed; null when the store has it all.</param>
public sealed record SessionResult(BenchSession Session, GuidedOutcome Outcome, Rescue? Rescue)
{
    /// <summary>Whether it has no end in the store and can be gone on with.</summary>
    public bool GoesOn { get; init; }
}

/// <summary>How a guided reading ended and what it gave; also of a cancelled or failed one nothing is lost.</summary>
/// <param name="Reason">Why, in words for the user.</param>
/// <param name="Lines">Every line received, in order.</param>
/// <param name="Fault">What ended it when it failed.</param>
public sealed record GuidedOutcome(
    SessionOutcome Outcome, string Reason, GuidedStrip Strip, ImmutableArray<ReceivedLine> Lines, Exception? Fault = null)
{
    /// <summary>Whether it was broken off by something that passes, so that the session need not end with it.</summary>
    public bool MayGoOn { get; init; }

    /// <summary>What came last and could not be kept any more; empty unless the store failed.</summary>
    public ImmutableArray<JournalEntry> Unstored { get; init; } = [];

    /// <summary>How many lines fitted nothing in the profile.</summary>
    public int UnmatchedLines => Lines.Count(l => l.Meaning == LineMeaning.Unmatched);
}

/// <summary>What was read when the store would not take it.</summary>
/// <param name="Path">The file it was written to; null when no folder would take a file.</param>
/// <param name="Text">The text of the file, to be shown when there is no file.</param>
public sealed record Rescue(string? Path, string Text);

/// <summary>
/// Writes the lines of a session to a plain text file when the store fails: first to the working folder, then to the user's own,
/// then to the system's folder for temporary files.
/// </summary>
internal static class RescueFile
{
    public static Rescue Write(BenchSession session, GuidedOutcome outcome) => Write(
        session,
        outcome,
        [
            Environment.CurrentDirectory,
            Environment.GetFolderPath(Environment.SpecialFolder.UserProfile),
            Path.GetTempPath(),
        ]);

    public static Rescue Write(BenchSession session, GuidedOutcome outcome, IEnumerable<string> folders)
    {
        var text = Text(session, outcome);
        foreach (var folder in folders.Where(f => f.Length > 0))
        {
            try
            {
                var path = Path.Combine(folder, $"acquire-rescued-{session.Id}.txt");
                using (var file =
                    new StreamWriter(path, new UTF8Encoding(false), UserOnly.Options(FileMode.Create, FileAccess.Write, FileShare.Read)))
                {
                    file.Write(text);
                }

                return new Rescue(path, text);
            }
            catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
            {
                // The next folder may take it.
            }
        }

        return new Rescue(null, text);
    }

    private static string Of(BenchSession session) => session switch
    {
        { LotCode: { } lot } => $"lot {lot}",
        { PlaqueName: { } plaque } => $"plaque {plaque}",
        _ => "repeatability",
    };

    private static string Text(BenchSession session, GuidedOutcome outcome)
    {
        var text = new StringBuilder();
        text.AppendLine(
            CultureInfo.InvariantCulture, $"# Lines of bench session {session.Id}, {Of(session)}, begun {session.Provenance.At:O}.");
        text.AppendLine("# The store could not take all of them. One line each: when received, what it was taken for, the line itself.");
        foreach (var (_, line, meaning) in outcome.Lines)
        {
            text.AppendLine(CultureInfo.InvariantCulture, $"{line.ReceivedAt:O}\t{meaning}\t{line.Text}");
        }

        if (!outcome.Unstored.IsEmpty)
        {
            text.AppendLine("# What came last, byte by byte, or was decided; the store has none of it.");
            foreach (var entry in outcome.Unstored)
            {
                text.AppendLine(
                    CultureInfo.InvariantCulture,
                    $"# {entry.At:O}\t{entry.Event}\t{entry.Decision ?? RawLine.Printable(entry.Bytes.AsSpan())}");
            }
        }

        text.AppendLine("# The reads by patch.");
        foreach (var patch in outcome.Strip.Patches)
        {
            foreach (var read in patch.Reads)
            {
                var note = read.Exclusion is { } exclusion ? $"\tdoes not count: {exclusion.Reason}" : "";
                text.AppendLine(CultureInfo.InvariantCulture, $"# {patch.Patch.Name}\t{read.Reading.Densities}{note}");
            }
        }

        return text.ToString();
    }
}
