using Acquire.Storage.Files;

namespace Acquire.Rendering.Safety;

/// <summary>Backups, for people and for programs.</summary>
internal static class BackupReport
{
    public static void WriteMade(IAnsiConsole console, string store, string made, IReadOnlyList<string> removed, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, new { Store = store, Made = made, Removed = removed });
            return;
        }

        console.Line($"{store} is copied to {made}, and the copy is verified.");
        if (removed.Count > 0)
        {
            console.Line($"{Numbers.Count(removed.Count, "old backup")} removed: all of two days are kept, then one a day for thirty "
                + $"days, then one a month.");
        }

        console.Line("A backup on the same disk is lost with it: copy one to another place now and then.");
    }

    public static void WriteList(IAnsiConsole console, BackupFolder folder, TimeProvider time, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, new { Folder = folder.Path, Backups = folder.Files.Select(f => new { f.Path, f.At, f.Bytes }) });
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
