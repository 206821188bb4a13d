namespace Acquire.Storage.Tests.Support;

/// <summary>A folder that is gone after the test.</summary>
internal sealed class TempFolder : IDisposable
{
    public string Path { get; } = Directory.CreateTempSubdirectory("acquire-test-").FullName;

    public string Database => In("acquire.db");

    public string In(string name) => System.IO.Path.Combine(Path, name);

    public void Dispose() => Directory.Delete(Path, recursive: true);
}
