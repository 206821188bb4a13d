using Acquire.Storage.Files;

namespace Acquire.Commands;

/// <summary>Every option that names a file to write leads here.</summary>
internal static class OutFile
{
    /// <summary>Whether a file that is there is replaced; on every command that writes one.</summary>
    public static Option<bool> Force { get; } = new("--force") { Description = "Replace the file that is there." };

    /// <summary>The file, which is not there or may be replaced; before any work is done for it.</summary>
    /// <exception cref="BenchException">It may not be written.</exception>
    public static WholeFile At(ParseResult parsed, string name) => WholeFile.At(name, parsed.GetValue(Force));

    /// <summary>A file that is written as things come, and must be new: only a name that no store takes for its own.</summary>
    /// <exception cref="BenchException">It is such a name.</exception>
    public static string New(string name) => StoreNames.Owns(WholeFile.Real(name))
        ? throw new BenchException($"{name} is a name that belongs to a store; name another file.")
        : name;
}
