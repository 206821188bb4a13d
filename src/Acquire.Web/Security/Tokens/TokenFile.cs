using System.Text.Json;
using Acquire.Formats.Json;
using Acquire.Storage.Files;

namespace Acquire.Web.Security.Tokens;

/// <summary>
/// The tokens of a data folder: <c>service-tokens.json</c>, for the user alone to read. They stand beside the store and not in it: a backup
/// that goes elsewhere must carry nobody's right to enter, and one that is put back must not give a revoked token its right again.
/// </summary>
/// <param name="folder">The data folder, which is there.</param>
internal sealed class TokenFile(string folder)
{
    private const string Name = "service-tokens.json";
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(5);
    private static readonly TimeSpan Step = TimeSpan.FromMilliseconds(20);

    private string PathOf(string name) => Path.Combine(folder, name);

    /// <exception cref="BenchException">The file cannot be read: then nobody gets in with a token.</exception>
    public ImmutableArray<AccessToken> Read()
    {
        try
        {
            return [.. JsonSerializer.Deserialize<AccessToken[]>(File.ReadAllText(PathOf(Name)), JsonText.Edited) ?? []];
        }
        catch (FileNotFoundException)
        {
            return [];
        }
        catch (DirectoryNotFoundException)
        {
            return [];
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException)
        {
            throw new BenchException(
                $"{PathOf(Name)} cannot be read: {e.Message} Mend it, or move it away and add the tokens anew with: acquire token add");
        }
    }

    /// <summary>
    /// Changes the list, one program at a time. It is written beside its place and renamed, so that nobody reads half of it.
    /// </summary>
    /// <param name="change">What is thrown in it leaves all as it was.</param>
    public async Task ChangeAsync(
        Func<ImmutableArray<AccessToken>, ImmutableArray<AccessToken>> change, CancellationToken cancellationToken)
    {
        UserOnly.Folder(folder);
        await using var held = await TakeAsync(cancellationToken);
        WholeText.Write(PathOf(Name), JsonSerializer.Serialize(change(Read()), JsonText.Edited));
    }

    private async Task<FileStream> TakeAsync(CancellationToken cancellationToken)
    {
        var path = PathOf("service-tokens.lock");
        for (var left = Patience; ; left -= Step)
        {
            try
            {
                return new FileStream(path, UserOnly.Options(FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None));
            }
            catch (IOException) when (left > TimeSpan.Zero && File.Exists(path))
            {
                // The other holder is another process, so it is the real clock that counts.
                await Task.Delay(Step, TimeProvider.System, cancellationToken);
            }
        }
    }
}

/// <summary>
/// When each token was used last: <c>service-token-use.json</c>, by the tokens' hashes. A file of its own, since only the service writes
/// it, and commands write the other.
/// </summary>
internal static class TokenUseFile
{
    private static string PathIn(string folder) => Path.Combine(folder, "service-token-use.json");

    /// <summary>Empty where it cannot be read: it decides nothing.</summary>
    public static Dictionary<string, DateTimeOffset> Read(string folder)
    {
        try
        {
            return JsonSerializer.Deserialize<Dictionary<string, DateTimeOffset>>(File.ReadAllText(PathIn(folder)), JsonText.Edited) ?? [];
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException)
        {
            return [];
        }
    }

    public static void Write(string folder, IReadOnlyDictionary<string, DateTimeOffset> uses) =>
        WholeText.Write(PathIn(folder), JsonSerializer.Serialize(uses, JsonText.Edited));
}

/// <summary>A small file of the user's own that is there whole or not at all.</summary>
internal static class WholeText
{
    public static void Write(string path, string text)
    {
        var beside = path + ".new";
        using (var file = new StreamWriter(new FileStream(beside, UserOnly.Options(FileMode.Create, FileAccess.Write, FileShare.None))))
        {
            file.Write(text);
        }

        File.Move(beside, path, overwrite: true);
    }
}
