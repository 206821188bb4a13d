using Acquire.Formats.ProcessSheets;

namespace Acquire.Bench.Processes;

/// <summary>
/// The process sheets: those that come with the program, and the user's own, which take the place of a shipped one of the same key. The
/// sheet packed with the strips rules, so its limits must be able to go somewhere.
/// </summary>
/// <param name="folder">The folder of the user's sheets, one JSON file each, named by its key; it need not exist.</param>
public sealed class ProcessLibrary(string folder)
{
    /// <summary>Where a user's own sheet of this key belongs.</summary>
    public string FileOf(string key) => Path.Combine(folder, key + ".json");

    /// <summary>Whether the user has an own sheet of this key.</summary>
    public bool HasOwn(string key) => File.Exists(FileOf(key));

    /// <summary>All sheets by key that can be read. A shipped one does not stand in for one of the user's that has an error.</summary>
    /// <param name="faults">What is wrong with the others.</param>
    public ImmutableArray<ProcessSheet> List(out ImmutableArray<ProcessSheetException> faults)
    {
        List<ProcessSheet> sheets = [.. ShippedSheets.All.Where(s => !HasOwn(s.Key))];
        List<ProcessSheetException> found = [];
        foreach (var file in Directory.Exists(folder) ? Directory.GetFiles(folder, "*.json") : [])
        {
            try
            {
                sheets.Add(Read(file));
            }
            catch (ProcessSheetException fault)
            {
                found.Add(fault);
            }
        }

        faults = [.. found];
        return [.. sheets.OrderBy(s => s.Key, StringComparer.Ordinal)];
    }

    /// <summary>Finds a sheet by its key or name, in any case.</summary>
    /// <exception cref="ProcessSheetException">
    /// There is no such sheet, and the message lists those there are; or it has an error.
    /// </exception>
    public ProcessSheet Get(string keyOrName)
    {
        // The user's own first, even one that cannot be read: to judge by the shipped limits instead would be worse than an error.
        var key = ShippedSheets.Find(keyOrName)?.Key ?? keyOrName.Trim().ToLowerInvariant();
        if (key.IndexOfAny(Path.GetInvalidFileNameChars()) < 0 && File.Exists(FileOf(key)))
        {
            return Read(FileOf(key));
        }

        return ShippedSheets.Find(key) ?? throw new ProcessSheetException(
            $"There is no process sheet '{keyOrName}'; there are {string.Join(", ", List(out _).Select(s => s.Key))}.") { IsNotThere =
                true };
    }

    /// <summary>Reads a sheet from any file; one that lies in the user's folder must bear the name of its key.</summary>
    /// <exception cref="ProcessSheetException">The file is not there, or the sheet has an error.</exception>
    public ProcessSheet ReadFile(string file)
    {
        if (!File.Exists(file))
        {
            throw new ProcessSheetException($"There is no file {file}; expected a process sheet in JSON.");
        }

        return Path.GetFullPath(Path.GetDirectoryName(Path.GetFullPath(file))!) == Path.GetFullPath(folder)
            ? Read(file)
            : ProcessSheetReader.Read(File.ReadAllText(file), file);
    }

    private static ProcessSheet Read(string file)
    {
        var sheet = ProcessSheetReader.Read(File.ReadAllText(file), file);
        return sheet.Key == Path.GetFileNameWithoutExtension(file)
            ? sheet
            : throw new ProcessSheetException($"{file}: the key is '{sheet.Key}', so the file must be named {sheet.Key}.json.");
    }
}
