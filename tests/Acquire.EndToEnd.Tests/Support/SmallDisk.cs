namespace Acquire.EndToEnd.Tests.Support;

/// <summary>A small file system of its own, mounted in a folder: in memory, or in a file that stands for a disk.</summary>
internal sealed class SmallDisk : IAsyncDisposable
{
    private SmallDisk(string folder) => Folder = folder;

    public string Folder { get; }

    private string Filler => Path.Combine(Folder, "filler");

    /// <summary>A file system in memory; its size can be changed while it is in use.</summary>
    public static Task<SmallDisk> InMemoryAsync(string folder, int megabytes) =>
        MountAsync(folder, "-t", "tmpfs", "-o", FormattableString.Invariant($"size={megabytes}m"), "tmpfs", folder);

    /// <summary>A file system on a block device, which turns read-only at its first fault.</summary>
    public static async Task<SmallDisk> OnBlockDeviceAsync(string folder, int megabytes)
    {
        Tools.Require("mkfs.ext4", "losetup");
        var image = folder + ".img";
        await using (var file = File.Create(image))
        {
            file.SetLength(megabytes * 1024L * 1024);
        }

        await using var format = RunningProgram.Start("mkfs.ext4", ["-q", "-F", image]);
        Assert.True(await format.ExitAsync() == 0, format.Error);
        return await MountAsync(folder, "-o", "loop,errors=remount-ro", image, folder);
    }

    /// <summary>Takes every byte that is left.</summary>
    public void Fill()
    {
        using var filler = new FileStream(Filler, FileMode.Append, FileAccess.Write, FileShare.Read, bufferSize: 0);
        foreach (var size in new[] { 64 * 1024, 4096, 512, 1 })
        {
            try
            {
                while (true)
                {
                    filler.Write(new byte[size]);
                }
            }
            catch (IOException)
            {
                // Full, as far as pieces of this size go.
            }
        }
    }

    /// <summary>Makes room again.</summary>
    public void Empty() => File.Delete(Filler);

    /// <summary>Lets the block device have a fault, by the kernel's own way to try what happens then.</summary>
    public async Task FailAsync()
    {
        var device = (await File.ReadAllLinesAsync("/proc/mounts", TestContext.Current.CancellationToken))
            .Select(l => l.Split(' '))
            .Single(f => f[1] == Folder)[0];
        var trigger = $"/sys/fs/ext4/{Path.GetFileName(device)}/trigger_fs_error";
        try
        {
            await File.WriteAllTextAsync(trigger, "1", TestContext.Current.CancellationToken);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            Assert.Skip($"This kernel lets nobody try a fault of a file system: {e.Message}");
        }

        await Assert.ThrowsAnyAsync<IOException>(
            () => File.WriteAllTextAsync(Path.Combine(Folder, "probe"), "x", TestContext.Current.CancellationToken));
    }

    /// <summary>Mounts it anew, to be written again.</summary>
    public async Task MendAsync()
    {
        var image = Folder + ".img";
        await UnmountAsync();
        await using var check = RunningProgram.Start("fsck.ext4", ["-p", "-f", image]);
        Assert.True(await check.ExitAsync() < 4, check.Out + check.Error);
        await using var mount = RunningProgram.Start("mount", ["-o", "loop", image, Folder]);
        Assert.True(await mount.ExitAsync() == 0, mount.Error);
    }

    public async ValueTask DisposeAsync() => await UnmountAsync();

    private static async Task<SmallDisk> MountAsync(string folder, params string[] arguments)
    {
        Tools.Require("mount");
        Directory.CreateDirectory(folder);
        await using var mount = RunningProgram.Start("mount", arguments);
        Assert.SkipUnless(await mount.ExitAsync() == 0, $"File systems cannot be mounted here: {mount.Error.Trim()}");
        return new SmallDisk(folder);
    }

    private async Task UnmountAsync()
    {
        await using var unmount = RunningProgram.Start("umount", [Folder]);
        await unmount.ExitAsync();
    }
}
