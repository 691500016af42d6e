//! What a machine must have besides Rust, how to tell, and how to get it.

use std::env;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use crate::places::on_path;
use crate::steps;

/// One thing a Linux machine must have.
pub struct Need {
    what: &'static str,
    sign: Sign,
    /// The package that holds it, in the order of `MANAGERS`.
    packages: [&'static str; MANAGERS.len()],
}

/// By what one sees that it is there. Looking for the thing and not for a package also finds what was installed otherwise.
enum Sign {
    Library(&'static str),
    Program(&'static str),
    VulkanDriver,
    SoftwareVulkanDriver,
}

/// Program to look for, and how its command begins.
const MANAGERS: [(&str, &str); 4] = [
    ("apt-get", "apt-get install --no-install-recommends"),
    ("dnf", "dnf install"),
    ("pacman", "pacman -S --needed"),
    ("zypper", "zypper install"),
];

/// What the program loads when it starts.
pub const TO_RUN: &[Need] = &[
    Need {
        what: "a Vulkan driver (Mesa has those of most graphics cards, and one that needs no card)",
        sign: Sign::VulkanDriver,
        packages: [
            "mesa-vulkan-drivers",
            "mesa-vulkan-drivers",
            "vulkan-swrast",
            "libvulkan_lvp",
        ],
    },
    Need {
        what: "the Vulkan loader",
        sign: Sign::Library("libvulkan.so.1"),
        packages: ["libvulkan1", "vulkan-loader", "vulkan-icd-loader", "libvulkan1"],
    },
    Need {
        what: "keyboard layouts under X11",
        sign: Sign::Library("libxkbcommon-x11.so.0"),
        packages: [
            "libxkbcommon-x11-0",
            "libxkbcommon-x11",
            "libxkbcommon-x11",
            "libxkbcommon-x11-0",
        ],
    },
    Need {
        what: "mouse pointers under X11",
        sign: Sign::Library("libXcursor.so.1"),
        packages: ["libxcursor1", "libXcursor", "libxcursor", "libXcursor1"],
    },
    Need {
        what: "mouse and keyboard input under X11",
        sign: Sign::Library("libXi.so.6"),
        packages: ["libxi6", "libXi", "libxi", "libXi6"],
    },
    Need {
        what: "screen sizes under X11",
        sign: Sign::Library("libXrandr.so.2"),
        packages: ["libxrandr2", "libXrandr", "libxrandr", "libXrandr2"],
    },
];

/// What the tests need on top.
pub const TO_TEST: &[Need] = &[
    Need {
        what: "Mesa's software Vulkan driver, which draws the same on every machine",
        sign: Sign::SoftwareVulkanDriver,
        packages: [
            "mesa-vulkan-drivers",
            "mesa-vulkan-drivers",
            "vulkan-swrast",
            "libvulkan_lvp",
        ],
    },
    Need {
        what: "Xvfb, a display without a screen",
        sign: Sign::Program("Xvfb"),
        packages: [
            "xvfb",
            "xorg-x11-server-Xvfb",
            "xorg-server-xvfb",
            "xorg-x11-server-Xvfb",
        ],
    },
    Need {
        what: "xdotool, which moves the mouse and types",
        sign: Sign::Program("xdotool"),
        packages: ["xdotool"; MANAGERS.len()],
    },
    Need {
        what: "ImageMagick, which takes pictures of the display",
        sign: Sign::Program("import"),
        packages: ["imagemagick", "ImageMagick", "imagemagick", "ImageMagick"],
    },
];

/// Looks for `needs`, installs what is missing where that is possible without asking, and otherwise prints how to.
/// Whether all is there in the end.
pub fn set_up(needs: &[&'static Need]) -> bool {
    let missing = missing(needs);
    if missing.is_empty() {
        return true;
    }
    println!("Missing on this machine:");
    for need in &missing {
        println!("  {}", need.what);
    }
    if !install(&missing) {
        print_how_to_install(&missing);
        return false;
    }
    let missing = self::missing(needs);
    if !missing.is_empty() {
        println!("Still missing after installing:");
        print_how_to_install(&missing);
    }
    missing.is_empty()
}

/// The files that describe Mesa's software Vulkan driver to the loader.
pub fn software_vulkan_drivers() -> Vec<PathBuf> {
    vulkan_driver_files()
        .filter(|file| file_name(file).starts_with("lvp_icd"))
        .collect()
}

fn missing(needs: &[&'static Need]) -> Vec<&'static Need> {
    let libraries = libraries();
    needs
        .iter()
        .copied()
        .filter(|need| !need.sign.is_here(&libraries))
        .collect()
}

impl Sign {
    fn is_here(&self, libraries: &str) -> bool {
        match self {
            Self::Library(name) => libraries.contains(&format!("{name} ")) || on_library_path(name),
            Self::Program(name) => on_path(name),
            Self::VulkanDriver => vulkan_driver_named() || vulkan_driver_files().next().is_some(),
            Self::SoftwareVulkanDriver => vulkan_driver_named() || !software_vulkan_drivers().is_empty(),
        }
    }
}

/// Every library the loader knows, as `ldconfig` lists them; empty where there is no `ldconfig`.
fn libraries() -> String {
    // It is not on everybody's PATH.
    let listing = ["ldconfig", "/sbin/ldconfig", "/usr/sbin/ldconfig"]
        .iter()
        .find_map(|program| Command::new(program).arg("-p").stderr(Stdio::null()).output().ok());
    listing
        .map(|output| String::from_utf8_lossy(&output.stdout).into_owned())
        .unwrap_or_default()
}

fn on_library_path(library: &str) -> bool {
    let folders = env::var_os("LD_LIBRARY_PATH").unwrap_or_default();
    env::split_paths(&folders).any(|folder| folder.join(library).is_file())
}

/// Whether somebody has chosen a driver by hand.
pub fn vulkan_driver_named() -> bool {
    ["VK_DRIVER_FILES", "VK_ICD_FILENAMES"]
        .iter()
        .any(|name| env::var_os(name).is_some_and(|files| !files.is_empty()))
}

fn vulkan_driver_files() -> impl Iterator<Item = PathBuf> {
    let shared = env::var_os("XDG_DATA_DIRS").unwrap_or_default();
    let shared: Vec<PathBuf> = env::split_paths(&shared)
        .filter(|folder| !folder.as_os_str().is_empty())
        .collect();
    let usual = ["/usr/share", "/usr/local/share", "/etc", "/run/opengl-driver/share"].map(PathBuf::from);
    let mut folders: Vec<PathBuf> = shared.into_iter().chain(usual).collect();
    folders.sort();
    folders.dedup();
    folders
        .into_iter()
        .filter_map(|folder| folder.join("vulkan/icd.d").read_dir().ok())
        .flat_map(|entries| entries.flatten().map(|entry| entry.path()))
        .filter(|file| file.extension().is_some_and(|extension| extension == "json"))
}

fn file_name(file: &Path) -> String {
    file.file_name()
        .map(|name| name.to_string_lossy().into_owned())
        .unwrap_or_default()
}

/// Installs with apt-get, as root or by a `sudo` that asks for no password. Whether it went well.
fn install(missing: &[&Need]) -> bool {
    if !on_path("apt-get") {
        return false;
    }
    let Some(mut prefix) = as_root() else { return false };
    prefix.extend(["env", "DEBIAN_FRONTEND=noninteractive", "apt-get"]);
    let packages = packages_of(missing, 0);
    println!("Installing {} ...", packages.join(" "));
    // Old lists may still do; what counts is whether the packages come.
    let _ = apt_get(&prefix, &["update", "-qq"], &[]);
    apt_get(&prefix, &["install", "-y", "-qq", "--no-install-recommends"], &packages)
}

fn apt_get(prefix: &[&str], arguments: &[&str], packages: &[&str]) -> bool {
    let words: Vec<&str> = [prefix, arguments, packages].concat();
    let Some((program, rest)) = words.split_first() else {
        return false;
    };
    steps::status(Command::new(program).args(rest).stdin(Stdio::null())).is_ok_and(|status| status.success())
}

/// What to put before a command so that it runs as root: nothing as root, `sudo -n` where that works.
fn as_root() -> Option<Vec<&'static str>> {
    let id = Command::new("id").arg("-u").output().ok()?;
    if String::from_utf8_lossy(&id.stdout).trim() == "0" {
        return Some(Vec::new());
    }
    let asked = Command::new("sudo")
        .args(["-n", "true"])
        .stdin(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .ok()?;
    asked.success().then(|| vec!["sudo", "-n"])
}

fn print_how_to_install(missing: &[&Need]) {
    let here: Vec<usize> = (0..MANAGERS.len())
        .filter(|&manager| on_path(MANAGERS[manager].0))
        .collect();
    let shown = if here.is_empty() {
        (0..MANAGERS.len()).collect()
    } else {
        here
    };
    println!(
        "To install, as root{}:",
        if shown.len() > 1 {
            ", the line of your package manager"
        } else {
            ""
        }
    );
    for manager in shown {
        println!("  {} {}", MANAGERS[manager].1, packages_of(missing, manager).join(" "));
    }
}

fn packages_of(missing: &[&Need], manager: usize) -> Vec<&'static str> {
    let mut packages: Vec<&str> = missing.iter().map(|need| need.packages[manager]).collect();
    packages.sort_unstable();
    packages.dedup();
    packages
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_package_that_holds_two_needs_is_named_once() {
        let needs: Vec<&Need> = TO_RUN.iter().chain(TO_TEST).collect();
        for (manager, (name, _)) in MANAGERS.iter().enumerate() {
            assert_eq!(packages_of(&needs, manager).len(), needs.len() - 1, "{name}");
        }
    }

    #[test]
    fn a_library_is_found_by_its_whole_name() {
        let listing = "\tlibXi.so.6 (libc6,x86-64) => /lib/libXi.so.6\n";
        assert!(Sign::Library("libXi.so.6").is_here(listing));
        assert!(!Sign::Library("libXi.so").is_here("\tlibXi.so.6 (libc6,x86-64) => /lib/somewhere\n"));
    }
}
