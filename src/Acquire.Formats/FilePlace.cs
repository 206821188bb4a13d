namespace Acquire.Formats;

/// <summary>A file cannot be read as what it should be. The message is for the user: file, place, what was expected.</summary>
public sealed class ImportException(string message, Exception? inner = null) : Exception(message, inner);

/// <summary>What is to be exported does not fit the format. The message is for the user.</summary>
public sealed class ExportException(string message) : Exception(message);

/// <summary>Where in a file something stands.</summary>
/// <param name="File">The file, as the user named it.</param>
/// <param name="Line">The line, from 1; 0 when the file as a whole is meant.</param>
/// <param name="Column">The character of the line, in a table the column, from 1; null where the line says enough.</param>
/// <param name="Path">Path of a JSON value, such as <c>$.parameters[0].action</c>; null where there is none.</param>
public sealed record FilePlace(string File, int Line, int? Column = null, string? Path = null)
{
    private const int MostShown = 40;

    /// <summary>An error at this place.</summary>
    /// <param name="what">What is wrong and what was expected, without a full stop.</param>
    /// <param name="inner">What it follows from.</param>
    public ImportException Wrong(string what, Exception? inner = null) => new($"{this}: {what}.", inner);

    /// <summary>For example <c>house.json, line 4, column 13, $.status</c>.</summary>
    public override string ToString() => string.Create(
        CultureInfo.InvariantCulture,
        $"{File}{(Line > 0 ? $", line {Line}" : "")}"
            + $"{(Column is { } column ? $", column {column}" : "")}{(Path is { } path ? $", {path}" : "")}");

    /// <summary>A piece of a file for the eye: short, and without what a terminal would obey.</summary>
    public static string Shown(string piece, int most = MostShown)
    {
        var plain = new string([.. piece.Take(most).Select(c => char.IsControl(c) ? '?' : c)]);
        return piece.Length > most ? plain + "…" : plain;
    }
}

/// <summary>One thing wrong with a file.</summary>
/// <param name="Message">What is wrong and what was expected, in a sentence.</param>
public sealed record FileProblem(FilePlace Place, string Message)
{
    public override string ToString() => $"{Place}: {Message}";
}
