using Acquire.Storage.Files;
using Acquire.Storage.Inspection;

namespace Acquire.Rendering.Safety;

/// <summary>A file that was looked through, for people and for programs.</summary>
internal static class VerifyReport
{
    public static void Write(IAnsiConsole console, StoreReport report, BackupFile? backup, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, new
            {
                report.File,
                report.SchemaVersion,
                Sound = report.IsSound,
                report.Seals,
                report.Contents,
                report.Findings,
                NewestSoundBackup = backup?.Path,
            });
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
