using CsvHelper;

namespace Acquire.Storage.Import;

/// <summary>Where in a file the reader stands, for messages.</summary>
internal sealed class FilePlace(string file, CsvContext context)
{
    private const int MostShown = 40;

    public string File => file;

    /// <summary>The line of the row that was read last, from 1.</summary>
    public int Line => context.Parser!.RawRow;

    public ImportException Wrong(string what, Exception? inner = null) => new($"{file}, line {Math.Max(Line, 1)}: {what}.", inner);

    /// <summary>A cell for the eye: short, and without what a terminal would obey.</summary>
    public static string Shown(string cell, int most = MostShown)
    {
        var plain = new string([.. cell.Take(most).Select(c => char.IsControl(c) ? '?' : c)]);
        return cell.Length > most ? plain + "…" : plain;
    }
}
