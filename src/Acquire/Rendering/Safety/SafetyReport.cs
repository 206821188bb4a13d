using Acquire.Bench.Safety;
using Acquire.Storage.Files;
using Acquire.Storage.Inspection;

namespace Acquire.Rendering.Safety;

/// <summary>Backups, for people and for programs.</summary>
internal static class BackupReport
{
    public static void WriteMade(IAnsiConsole console, string store, string made, IReadOnlyList<string> removed, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, BackupJson.Made(store, made, removed));
            return;
        }

        console.Line($"{store} is copied to {made}, and the copy is verified.");
        if (removed.Count > 0)
        {
            console.Line($"{Numbers.Count(removed.Count, "old backup")} removed: all of two days are kept, then one a day for thirty "
                + "days, then one a month.");
        }

        console.Line("A backup on the same disk is lost with it: copy one to another place now and then.");
    }

    public static void WriteRestored(IAnsiConsole console, RestoredStore restored, bool json)
    {
        var aside = restored.SetAside;
        if (json)
        {
            JsonOutput.Write(console, BackupJson.Restored(restored));
            return;
        }

        console.Line(
            $"{restored.BackupPath} is in place as the store of {Path.GetDirectoryName(restored.StorePath)}, and was verified before.");
        console.Line(aside is null
            ? "There was no store before."
            : $"The store that was there is {aside}. What was read since the backup was made is in it only; "
                + "keep it until you have looked.");
    }

    public static void WriteList(IAnsiConsole console, BackupFolder folder, TimeProvider time, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, BackupJson.Of(folder));
            return;
        }

        if (folder.Files.Count == 0)
        {
            console.Line($"No backups in {folder.Path}. Make one: acquire backup");
            return;
        }

        var table = Tables.New("made", "kilobytes", "file");
        foreach (var file in folder.Files)
        {
            table.Row(Numbers.Moment(file.At, time), (file.Bytes / 1000).ToString(CultureInfo.InvariantCulture), file.Path);
        }

        console.WriteTable(table);
        console.Line("To look one through: acquire verify --file FILE. To put it in the place of the store: acquire restore FILE");
    }
}

/// <summary>A file that was looked through, for people and for programs.</summary>
internal static class VerifyReport
{
    public static void Write(IAnsiConsole console, StoreLook look, bool json)
    {
        var (report, backup) = (look.Report, look.Backup);
        if (json)
        {
            JsonOutput.Write(console, VerifyJson.Of(look));
            return;
        }

        if (report.IsSound)
        {
            console.Line($"SOUND: {report.File}, schema version {report.SchemaVersion}. {Held(report)}");
            return;
        }

        console.Line($"NOT SOUND: {report.File}, schema version {report.SchemaVersion}");
        foreach (var finding in report.Findings)
        {
            console.Line($"  {finding.What}");
        }

        foreach (var advice in Advice(report, backup))
        {
            console.Line(advice);
        }
    }

    /// <summary>What to do, for people.</summary>
    public static IEnumerable<string> Advice(StoreReport report, BackupFile? backup)
    {
        if (report.Findings.All(f => f.Kind == StoreFindingKind.NotSealed))
        {
            yield return "This program seals what it writes, so another wrote these rows, or an upgrade was broken off. Where you know "
                + "them to be right: acquire verify --seal";
            yield break;
        }

        yield return "Keep this file as it is until its readings are safe: acquire export --out FILE takes out what can be read.";
        yield return backup is null
            ? "There is no sound backup in the data folder."
            : $"The newest sound backup is {backup.Path}; to put it in place, keeping this file aside: acquire restore {backup.Path}";
    }

    private static string Held(StoreReport report)
    {
        string Count(string table, string what) => Numbers.Count((int)report.Contents.GetValueOrDefault(table), what);
        var held = $"{Count("strip", "strip")} in {Count("strip_revision", "revision")}, {Count("lot", "lot")}, "
            + $"{Count("bench_session", "session")} with {Count("session_line", "line")}.";
        return report.Seals is { } seals
            ? $"{held} All {seals} rows are as they were written."
            : $"{held} The file is of a version that kept no seals, so what was changed in it before cannot be told.";
    }
}
